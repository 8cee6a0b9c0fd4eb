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

func newUndo(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "undo [N]", Writes: true, JSON: true}, func(a *frame.App, args []string) error {
		n := 1
		if len(args) > 0 {
			var err error
			if n, err = strconv.Atoi(args[0]); err != nil || n < 1 {
				return frame.Usage("undo takes how many things to take back, 1 or more, not %q", args[0]).Hint("strandwise undo 2")
			}
		}
		return runUndo(a, "undone", func(s *session.State) ([]session.Event, error) { return s.UndoLast(n) })
	})
}

func newRedo(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "redo", Writes: true, JSON: true}, func(a *frame.App, _ []string) error {
		return runUndo(a, "redone", func(s *session.State) ([]session.Event, error) {
			e, err := s.Redo()
			return []session.Event{e}, err
		})
	})
}

func runUndo(a *frame.App, word string, decide func(*session.State) ([]session.Event, error)) error {
	var events []session.Event
	return logAndTell(a, func(p *stored.Piece) (_ []session.Event, err error) {
		events, err = decide(p.State)
		return events, err
	}, func(p *stored.Piece) *answer.Placed {
		did := listOf(events, func(e session.Event) string { return word + ": " + wordsOf(p, e) })
		return answer.NewPlaced(p.Piece, did...)
	})
}

// wordsOf is the line of what is undone or redone, without what became of it since.
func wordsOf(p *stored.Piece, e session.Event) string {
	var of session.Entry
	switch e := e.(type) {
	case *session.Undone:
		of, _ = p.State.Entry(e.Seq)
	case *session.Redone:
		undoing, _ := p.State.Entry(e.Seq)
		of, _ = p.State.Entry(undoing.Event.(*session.Undone).Seq)
	}
	of.Canceled = false
	return p.Words(of)
}

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
		if err := a.Confirm(ripWords(before, rows)); err != nil {
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

func ripWords(p *stored.Piece, rows int) string {
	row := p.State.Row
	if rows == 1 {
		return fmt.Sprintf("rip back finished %s %d of %s", p.RowWord(), row, p.State.Setup.Name)
	}
	return fmt.Sprintf("rip back finished %ss %d to %d of %s", p.RowWord(), row-rows+1, row, p.State.Setup.Name)
}
