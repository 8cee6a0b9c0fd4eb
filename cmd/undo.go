package cmd

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"strandwise/session"
)

func newUndo(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "undo",
		short: "take back the last thing logged",
		long:  "Takes back the last thing logged, as if it had never been; called again, the one before. Nothing is lost: redo brings it back, and the history shows both. For rows that were really ripped out there is rip.",
		examples: []string{
			"strandwise knit && strandwise undo",
			"strandwise pause 14 && strandwise undo --json",
		},
		writes: true, json: true,
	}, func(ctx context.Context, _ []string) error {
		return runUndo(ctx, a, "undone", func(s *session.State) (uint64, session.Event, error) {
			e, err := s.Undo()
			return e.Seq, e, err
		})
	})
}

func newRedo(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "redo",
		short: "bring back what was undone",
		long:  "Brings back what was undone last; called again, the one before. Once something new is logged, what was undone before stays undone.",
		examples: []string{
			"strandwise knit && strandwise undo && strandwise redo",
			"strandwise undo && strandwise redo --json",
		},
		writes: true, json: true,
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
func runUndo(ctx context.Context, a *app, word string, step func(*session.State) (uint64, session.Event, error)) error {
	about := uint64(0)
	p, err := a.change(ctx, func(p *storedPiece) ([]session.Event, error) {
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
	if a.flags.json {
		return a.answerJSON(1, placeBody(p))
	}
	a.say(fmt.Sprintf("%s: %s", word, p.wordsOf(about)), "")
	a.sayPlace(p)
	return nil
}

// wordsOf is the line of an event, without what became of it since.
func (p *storedPiece) wordsOf(seq uint64) string {
	e, _ := p.State.Entry(seq)
	e.Cancelled = false
	return p.Words(e)
}
