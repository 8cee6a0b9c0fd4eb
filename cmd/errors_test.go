package cmd

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/store"
)

func TestErrorsFromBelow(t *testing.T) {
	for _, c := range []struct {
		err  error
		code exit
		hint string // of the first line
	}{
		{&store.Error{Class: store.ClassMissing, What: "no store"}, exitUnusable, "strandwise cast-on NAME PART..., which begins a store"},
		{&store.Error{Class: store.ClassBusy, Next: "close the other one"}, exitBusy, "close the other one"},
		{&store.Error{Class: store.ClassDamaged, Backup: "b"}, exitDamaged, "newest backup: b"},
		{&store.Error{Class: store.ClassForeign}, exitDamaged, "--store PATH, if the store lies elsewhere"},
		{&store.Error{Class: store.ClassNewer}, exitDamaged, ""},
		{&store.Error{Class: store.ClassUnknown}, exitUnknown, ""},
		{&store.Error{Class: store.ClassBadInput}, exitInput, ""},
		{&store.Error{Class: store.ClassConflict}, exitRefused, ""},
		{&store.Error{Class: store.ClassOther}, exitBug, ""},
		{store.ErrNoPiece, exitRefused, "strandwise pieces, which lists them"},
		{&session.AlreadyRecordedError{Row: 12, Next: 13}, exitRefused, "strandwise show, for the row to work now"},
		{&session.NotYetError{Row: 20, Next: 13}, exitRefused, "strandwise knit --to 20, if the rows below it are knitted already"},
		{&session.TooManyRowsError{Asked: 9, There: 3}, exitRefused, "strandwise rip 3"},
		{&session.TooManyRowsError{Asked: 9}, exitRefused, "strandwise show, for the row to work now"},
		{&session.EventError{Seq: 3, Err: &session.AlreadyRecordedError{}}, exitDamaged, "strandwise store check, then strandwise store restore"},
		{&session.EventError{Seq: 3, Err: &session.NewerError{Kind: 99}}, exitDamaged, "the newer version of strandwise that wrote it"},
		{&chart.Faults{File: "band.chart"}, exitInput, "mend the file, then strandwise chart check"},
		{&floats.PlainYarnError{Symbol: 'q'}, exitInput, "name a yarn of the charts, or add the line `yarn: q NAME #RRGGBB` to one of them"},
		{&floats.ClashError{Symbol: 'x'}, exitInput, "give yarn x one name and one color in both charts, or another symbol in one of them"},
		{floats.ErrNoChart, exitUsage, "name a chart file among the parts, as in strandwise cast-on hat band.chart@12"},
		{context.Canceled, exitInterrupted, ""},
		{refused("no").hint("ask again"), exitRefused, "ask again"},
		{badInput("not a chart").because(&session.NotYetError{}), exitInput, ""},
	} {
		for _, err := range []error{c.err, fmt.Errorf("piece hat: %w", c.err)} {
			p := describe(err)
			assert.Equal(t, c.code, p.exit, "%T", c.err)
			assert.Equal(t, err.Error(), p.what)
			first := ""
			if len(p.hints) > 0 {
				first = p.hints[0]
			}
			assert.Equal(t, c.hint, first, "%T", c.err)
		}
	}
}
