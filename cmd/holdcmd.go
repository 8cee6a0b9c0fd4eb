package cmd

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/session/hold"
)

func newHold(a *frame.App) *cobra.Command {
	g := &gripFlags{}
	c := a.Leaf(frame.Spec{
		Use:    "hold [HOLD]",
		Writes: true, JSON: true,
		Complete: func(*frame.App, []string) []string { return frame.WordsOf(hold.Holds()) },
	}, g.runHold)
	g.add(c.Flags())
	c.Flags().Lookup("hold").Hidden = true
	return c
}

// takeHold takes the hold from the argument; the flag is how it was given once.
func (g *gripFlags) takeHold(a *frame.App, args []string) error {
	if g.hold != "" {
		a.Renamed("hold --hold "+g.hold, "hold "+g.hold)
	}
	if len(args) == 0 {
		return nil
	}
	word := args[0]
	if err := frame.OneOf(&g.hold, frame.WordsOf(hold.Holds())...).Set(word); err != nil {
		for flag, words := range map[string][]string{"carry": frame.WordsOf([]hold.Carry{hold.Parallel, hold.Rotating}), "method": frame.WordsOf(hold.Methods())} {
			if slices.Contains(words, word) {
				return frame.Usage("%q is no hold", word).Hint("strandwise hold --%s %s", flag, word)
			}
		}
		hint, e := "", (*frame.ChoiceError)(nil)
		if errors.As(err, &e) && !e.Unlike() {
			hint = e.Hint("strandwise hold %s")
		}
		return frame.Usage("hold %v", err).Hint("%s", cmp.Or(hint, "strandwise hold --dominant "+frame.InShell(word)+", if it is a yarn"))
	}
	return nil
}

func (g *gripFlags) runHold(a *frame.App, args []string) error {
	if err := g.takeHold(a, args); err != nil {
		return err
	}
	changes := *g != gripFlags{}
	a.Writes.Store(changes)
	p, err := stored.Take(a)
	if err != nil {
		return err
	}
	if !changes {
		return a.Answer(1, answer.NewHold(p.Piece, ""))
	}
	var lower *session.LowerSet
	if g.hold != "" || g.lower != "" {
		after := p.State.Setup.Grip.Changed(session.Grip{Hold: g.hold, Carry: g.carry})
		if lower, err = lowerFor(a, g.lower, after.Hands(p.State.Setup.Mirror)); err != nil {
			return err
		}
	}
	p, err = stored.Change(a, func(p *stored.Piece) ([]session.Event, error) { return g.changes(p, lower) })
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewHold(p.Piece, holdWords(p)))
}

// changes makes the events of the flags given.
func (g *gripFlags) changes(p *stored.Piece, lower *session.LowerSet) ([]session.Event, error) {
	var events []session.Event
	if *g != (gripFlags{lower: g.lower}) {
		grip, err := g.grip(p.Layout.Fabric.Yarns)
		if err != nil {
			return nil, err
		}
		events = append(events, &session.HoldChanged{Grip: grip})
	}
	if lower != nil {
		events = append(events, lower)
	}
	return events, nil
}

// holdWords tells what was changed of the hold.
func holdWords(p *stored.Piece) string {
	var lines []string
	for _, e := range p.State.History() {
		if e.Seq >= p.State.CanUndo {
			lines = append(lines, p.Words(e))
		}
	}
	return strings.Join(lines, "; ")
}
