package frame

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
		code Exit
		hint string // of the first line
	}{
		{&store.Error{Class: store.ClassMissing, What: "no store"}, ExitUnusable, "strandwise cast-on NAME PART..., as in strandwise cast-on hat example:lantern-band@6"},
		{&store.Error{Class: store.ClassBusy, Next: "close the other one"}, ExitBusy, "close the other one"},
		{&store.Error{Class: store.ClassDamaged, Backup: "b"}, ExitDamaged, "newest backup: b"},
		{&store.Error{Class: store.ClassForeign}, ExitDamaged, "--store PATH, if the store lies elsewhere"},
		{&store.Error{Class: store.ClassNewer}, ExitDamaged, "use the newer version of the program that wrote it"},
		{&store.Error{Class: store.ClassUnknown}, ExitUnknown, "look whether it is there before doing it again"},
		{&store.Error{Class: store.ClassBadInput}, ExitInput, "export the store again and copy the file anew"},
		{&store.Error{Class: store.ClassConflict}, ExitRefused, ""},
		{&store.Error{Class: store.ClassOther}, ExitBug, ""},
		{store.ErrNoPiece, ExitRefused, "strandwise pieces, which lists them"},
		{&session.RefusedError{Try: []string{"strandwise show, for the row to work now"}}, ExitRefused, "strandwise show, for the row to work now"},
		{&session.RefusedError{Piece: "the hat"}, ExitRefused, `strandwise pieces remove "the hat"`},
		{&session.RefusedError{Unreadable: true, Try: []string{"3 oat"}}, ExitUsage, "3 oat"},
		{&session.EventError{Seq: 3, Err: &session.RefusedError{}}, ExitDamaged, "strandwise store check, then strandwise store restore"},
		{&session.EventError{Seq: 3, Err: &session.NewerError{Kind: 99}}, ExitDamaged, "the newer version of strandwise that wrote it"},
		{&chart.Faults{File: "band.chart"}, ExitInput, "mend the file, then strandwise chart check"},
		{&floats.LayError{What: "plain rows", Try: "name a yarn of the charts"}, ExitInput, "name a yarn of the charts"},
		{&floats.ClashError{Symbol: 'x', ThenPart: "Pier"}, ExitInput, "strandwise chart turn FILE --yarn x=SYMBOL -o NEW-FILE, with the file of Pier, if it is another yarn there"},
		{floats.ErrNoChart, ExitUsage, "name a chart file among the parts, as in strandwise cast-on hat band.chart@12"},
		{context.Canceled, ExitInterrupted, ""},
		{Refused("no").Hint("ask again"), ExitRefused, "ask again"},
		{BadInput("not a chart").Because(&session.RefusedError{}), ExitInput, ""},
	} {
		for _, err := range []error{c.err, fmt.Errorf("piece hat: %w", c.err)} {
			p := Describe(err)
			assert.Equal(t, c.code, p.Exit, "%T", c.err)
			assert.Equal(t, err.Error(), p.What)
			first := ""
			if len(p.Hints) > 0 {
				first = p.Hints[0]
			}
			assert.Equal(t, c.hint, first, "%T", c.err)
		}
	}
}
