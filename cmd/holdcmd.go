package cmd

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/render"
	"strandwise/session"
	"strandwise/session/hold"
)

func newHold(a *app) *cobra.Command {
	g := &gripFlags{}
	c := a.leaf(spec{
		use:   "hold",
		short: "how the yarns are held and caught; change it",
		long: "Shows how the yarns of the piece are held and caught, which place is dominant, and where the yarns of the row to work sit. With a flag it changes that from the next row on.\n\n" +
			"The dominant yarn is carried below, and its stitches stand out. A change in the middle of a piece can show.",
		examples: []string{
			"strandwise hold",
			"strandwise hold --dominant background",
			"strandwise hold --hold one-at-a-time --carry rotating --method twist",
		},
		writes: true, json: true,
	}, func(ctx context.Context, _ []string) error { return runHold(ctx, a, g) })
	g.add(c.Flags())
	return c
}

func runHold(ctx context.Context, a *app, g *gripFlags) error {
	if !g.given() {
		a.writes.Store(false)
		p, err := a.take(ctx)
		if err != nil {
			return err
		}
		return a.tellHold(p)
	}
	before, err := a.take(ctx)
	if err != nil {
		return err
	}
	lower, err := a.lowerChange(ctx, g, before.State.Setup)
	if err != nil {
		return err
	}
	p, err := a.change(ctx, func(p *storedPiece) ([]session.Event, error) { return g.changes(p, lower) })
	if err != nil {
		return err
	}
	if !a.flags.json {
		a.say(p.holdWords(), "")
		if p.State.Row > 0 || p.State.Begun > 0 {
			a.tell("%s", hold.ChangeShows)
		}
	}
	return a.tellHold(p)
}

// lowerChange is what the knitter tells of the level of her strands with a change of hold.
func (a *app) lowerChange(ctx context.Context, g *gripFlags, setup session.CastOn) (*session.LowerSet, error) {
	if g.hold == "" && g.lower == "" {
		return nil, nil
	}
	after := setup.Grip
	if g.hold != "" {
		after.Hold, after.Lower = g.hold, ""
	}
	if g.carry != "" {
		after.Carry = g.carry
	}
	if _, _, err := holdAndCarry(after); err != nil {
		return nil, err
	}
	return a.lowerFor(ctx, g.lower, after.Hands(setup.Mirror))
}

// changes makes the events of the flags given.
func (g *gripFlags) changes(p *storedPiece, lower *session.LowerSet) ([]session.Event, error) {
	var events []session.Event
	if *g != (gripFlags{lower: g.lower}) {
		e, err := g.change(p)
		if err != nil {
			return nil, err
		}
		events = append(events, e)
	}
	if lower != nil {
		events = append(events, lower)
	}
	return events, nil
}

// holdWords tells what was changed of the hold.
func (p *storedPiece) holdWords() string {
	var lines []string
	for _, e := range p.State.History() {
		if e.Seq >= p.State.CanUndo {
			lines = append(lines, p.Words(e))
		}
	}
	return strings.Join(lines, "; ")
}

// change makes the event of the flags that change a hold.
func (g *gripFlags) change(p *storedPiece) (*session.HoldChanged, error) {
	e := &session.HoldChanged{Grip: session.Grip{Hold: g.hold, Carry: g.carry, Method: g.method}}
	if g.dominant != "" {
		var err error
		if e.Dominant, err = dominantWord(g.dominant, p.Layout.Fabric.Yarns); err != nil {
			return nil, err
		}
	}
	after := p.State.Setup.Grip
	if g.hold != "" {
		after.Hold = g.hold
	}
	if g.carry != "" {
		after.Carry = g.carry
	}
	h, c, err := holdAndCarry(after)
	if err != nil {
		return nil, err
	}
	return e, hold.CheckCarry(h, c)
}

// tellHold prints how the yarns are held now.
func (a *app) tellHold(p *storedPiece) error {
	grip, mirror := p.State.Setup.Grip, p.State.Setup.Mirror
	hands := grip.Hands(mirror)
	h, c := hands.Hold, hands.Carry
	if a.flags.json {
		return a.answerJSON(1, holdBody(p, hands))
	}
	a.tellUnder("hold      ", "%s: %s", grip.Hold, h.Describe(mirror))
	a.tellUnder("carry     ", "%s", grip.Carry)
	a.tellUnder("method    ", "%s", grip.Method)
	if begun := p.State.OnNeedle; begun != nil && begun.Method != grip.FloatMethod() {
		a.tellUnder("          ", "%s, with %s", keptWords(p.rowWord(), begun.Row), plural(begun.Method.String(), 2))
	}
	if best := hold.Recommend(h, c); best.Method.String() != grip.Method {
		a.tellUnder("          ", "a %s goes better with this hold: %s", best.Method, best.Reason)
	}
	d := hands.Dominant()
	if d.Known {
		a.tellUnder("dominant  ", "%s, %s", dominantName(grip, p.Layout.Fabric.Yarns), d.Place.Phrase(mirror))
	}
	if d.Advice != "" {
		a.tellUnder("          ", "%s", d.Advice)
	}
	if mirror {
		a.tellUnder("mirror    ", "%s", hold.MirrorHolds)
	}
	if next := p.State.Next(); next > 0 {
		a.tellUnder(fmt.Sprintf("%-9s ", p.rowWord()+" "+fmt.Sprint(next)), "%s", render.SeatWords(p.Sheet(next), p.YarnPlaces(next)))
	}
	a.say("", "the motions: strandwise motions")
	return nil
}

// holdAnswer is the JSON of hold, schema 1.
type holdAnswer struct {
	Hold          string                 `json:"hold"`
	Carry         string                 `json:"carry"`
	Method        string                 `json:"method"`
	Dominant      string                 `json:"dominant"`       // pattern, background or a symbol
	DominantPlace string                 `json:"dominant_place"` // empty where none is known
	Lower         string                 `json:"lower"`          // the place whose strand comes from below, as the knitter told; empty where she did not
	Mirror        bool                   `json:"mirror"`
	Recommended   string                 `json:"recommended"` // method for this hold
	YarnPlaces    []render.YarnPlaceJSON `json:"seats"`       // in the row to work
}

func holdBody(p *storedPiece, h hold.Hands) holdAnswer {
	s := p.State.Setup
	body := holdAnswer{
		Hold: s.Hold, Carry: s.Carry, Method: s.Method, Dominant: s.Dominant, Mirror: s.Mirror,
		Recommended: hold.Recommend(h.Hold, h.Carry).Method.String(), Lower: s.Lower,
	}
	if d := h.Dominant(); d.Known {
		body.DominantPlace = d.Place.String()
	}
	if next := p.State.Next(); next > 0 {
		body.YarnPlaces = render.SheetBody(p.Sheet(next)).YarnPlaces
	}
	return body
}
