package cmd

import (
	"strconv"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newUndo(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "undo [N]", Writes: true, JSON: true}, func(a *frame.App, args []string) error {
		n, err := 1, error(nil)
		if len(args) > 0 {
			n, err = strconv.Atoi(args[0])
		}
		if err != nil || n < 1 {
			return frame.Usage("undo takes how many things to take back, 1 or more, not %q", args[0]).Hint("strandwise undo 2")
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
