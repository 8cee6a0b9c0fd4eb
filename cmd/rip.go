package cmd

import (
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newRip(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "rip [N]", Writes: true, JSON: true}, withTaken(stored.Take, runRip))
}

func runRip(a *frame.App, before *stored.Piece, args []string) error {
	rows, err := ripCount(before, args)
	if err != nil {
		return err
	}
	e := &session.Ripped{Rows: rows}
	if err := before.State.Check(e); err != nil {
		return err
	}
	if rows > 0 {
		which, last := before.RowWord(), before.State.Row
		if rows > 1 {
			which += fmt.Sprintf("s %d to", last-rows+1)
		}
		if err := a.Confirm(fmt.Sprintf("rip back finished %s %d of %s", which, last, before.State.Setup.Name)); err != nil {
			return err
		}
	}
	return logAndTell(a, func(p *stored.Piece) ([]session.Event, error) {
		if p.ID != before.ID || p.State.LastSeq != before.State.LastSeq {
			return nil, frame.Refused("%s was changed in another terminal meanwhile", p.State.Setup.Name).Hint("strandwise resume, then rip again")
		}
		return []session.Event{e}, nil
	}, func(p *stored.Piece) *answer.Placed { return answer.NewPlaced(p.Piece, p.Words(p.State.Newest())) })
}

// ripCount tells, for a count that none can be, how many rows are finished.
func ripCount(p *stored.Piece, args []string) (int, error) {
	if len(args) == 0 {
		return 0, nil
	}
	n, err := strconv.Atoi(args[0])
	if err == nil && n >= 1 && n <= trialMost {
		return n, nil
	}
	there := fmt.Sprintf("from 1 to %d, as many as are finished", p.State.Row)
	switch p.State.Row {
	case 0:
		there = "of which none is finished"
	case 1:
		there = "of which 1 is finished"
	}
	return 0, frame.Usage("rip takes a whole number of %ss, %s, not %q", p.RowWord(), there, args[0]).
		Hint("strandwise rip 1, or strandwise rip alone for the begun part of a %s", p.RowWord())
}
