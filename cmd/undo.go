package cmd

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newUndo(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{
		Use:   "undo",
		Short: "take back the last thing logged",
		Long:  "Takes back the last thing logged, as if it had never been; called again, the one before. Nothing is lost: redo brings it back, and the history shows both. For rows that were really ripped out there is rip.",
		Examples: []string{
			"strandwise knit && strandwise undo",
			"strandwise pause 14 && strandwise undo --json",
		},
		Writes: true, JSON: true,
	}, func(ctx context.Context, _ []string) error {
		return runUndo(ctx, a, "undone", func(s *session.State) (uint64, session.Event, error) {
			e, err := s.Undo()
			return e.Seq, e, err
		})
	})
}

func newRedo(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{
		Use:   "redo",
		Short: "bring back what was undone",
		Long:  "Brings back what was undone last; called again, the one before. Once something new is logged, what was undone before stays undone.",
		Examples: []string{
			"strandwise knit && strandwise undo && strandwise redo",
			"strandwise undo && strandwise redo --json",
		},
		Writes: true, JSON: true,
	}, func(ctx context.Context, _ []string) error {
		return runUndo(ctx, a, "redone", func(s *session.State) (uint64, session.Event, error) {
			e, err := s.Redo()
			if err != nil {
				return 0, e, err
			}
			return undoneBy(s, e.Seq), e, nil
		})
	})
}

// undoneBy is the number of the event that an undoing cancelled.
func undoneBy(s *session.State, seq uint64) uint64 {
	if e, ok := s.Entry(seq); ok {
		if undone, ok := e.Event.(*session.Undone); ok {
			return undone.Seq
		}
	}
	return 0
}

// runUndo logs an undoing or a redoing; step gives it and the event it is about.
func runUndo(ctx context.Context, a *frame.App, word string, step func(*session.State) (uint64, session.Event, error)) error {
	about := uint64(0)
	p, err := stored.Change(a, ctx, func(p *stored.Piece) ([]session.Event, error) {
		seq, e, err := step(p.State)
		if err != nil {
			return nil, err
		}
		about = seq
		return []session.Event{e}, nil
	})
	if err != nil {
		return err
	}
	if a.Flags.JSON {
		return a.AnswerJSON(1, placeBody(p))
	}
	a.Say(fmt.Sprintf("%s: %s", word, wordsOf(p, about)), "")
	sayPlace(a, p)
	return nil
}

// wordsOf is the line of an event, without what became of it since.
func wordsOf(p *stored.Piece, seq uint64) string {
	e, _ := p.State.Entry(seq)
	e.Cancelled = false
	return p.Words(e)
}
