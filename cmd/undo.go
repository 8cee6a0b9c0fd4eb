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
		n := 1
		if len(args) > 0 {
			var err error
			if n, err = strconv.Atoi(args[0]); err != nil || n < 1 {
				return frame.Usage("undo takes how many things to take back, 1 or more, not %q", args[0]).Hint("strandwise undo 2")
			}
		}
		return runUndo(a, "undone", func(s *session.State) ([]uint64, []session.Event, error) {
			events, err := s.UndoLast(n)
			var about []uint64
			for _, e := range events {
				about = append(about, e.(*session.Undone).Seq)
			}
			return about, events, err
		})
	})
}

func newRedo(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "redo", Writes: true, JSON: true}, func(a *frame.App, _ []string) error {
		return runUndo(a, "redone", func(s *session.State) ([]uint64, []session.Event, error) {
			e, err := s.Redo()
			if err != nil {
				return nil, nil, err
			}
			return []uint64{undoneBy(s, e.Seq)}, []session.Event{e}, nil
		})
	})
}

// undoneBy is the number of the event that an undoing canceled.
func undoneBy(s *session.State, seq uint64) uint64 {
	if e, ok := s.Entry(seq); ok {
		if undone, ok := e.Event.(*session.Undone); ok {
			return undone.Seq
		}
	}
	return 0
}

// runUndo logs undoings or a redoing; step gives them and the events they are about.
func runUndo(a *frame.App, word string, step func(*session.State) ([]uint64, []session.Event, error)) error {
	var about []uint64
	p, err := stored.Change(a, func(p *stored.Piece) (events []session.Event, err error) {
		about, events, err = step(p.State)
		return events, err
	})
	if err != nil {
		return err
	}
	did := make([]string, len(about))
	for i, seq := range about {
		did[i] = word + ": " + wordsOf(p, seq)
	}
	return a.Answer(2, answer.NewPlaced(p.Piece, did...))
}

// wordsOf is the line of an event, without what became of it since.
func wordsOf(p *stored.Piece, seq uint64) string {
	e, _ := p.State.Entry(seq)
	e.Canceled = false
	return p.Words(e)
}
