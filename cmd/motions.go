package cmd

import (
	"io"
	"slices"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/paper"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
	"strandwise/store"
)

type motionsOptions struct {
	hold, carry, method, side string
	mirror                    bool
	all                       bool
	picture                   outFile
	force                     bool
}

var sides = map[string]hold.Side{"knit": hold.KnitSide, "purl": hold.PurlSide}

func newMotions(a *frame.App) *cobra.Command {
	o := &motionsOptions{}
	c := a.Leaf(frame.Spec{Use: "motions", JSON: true}, o.run)
	set := c.Flags()
	set.Var(frame.OneOf(&o.hold, frame.WordsOf(hold.Holds())...), "hold", "how you hold the yarns, as `HOLD`: "+session.Listed(frame.WordsOf(hold.Holds()), "or"))
	set.Var(frame.OneOf(&o.carry, frame.WordsOf(carries)...), "carry", "the order the strands keep: `parallel|rotating`")
	set.Var(frame.OneOf(&o.method, frame.WordsOf(hold.Methods())...), "method", "only this method: `weave|twist` (default: both, the recommended one first)")
	set.Var(frame.OneOf(&o.side, "knit", "purl"), "side", "only this side: `knit|purl` (default: both)")
	set.BoolVar(&o.mirror, "mirror", false, "you work from the right needle to the left")
	set.BoolVar(&o.all, "all", false, "every motion there is")
	o.picture.add(set, "picture", "", "draw each step into `FILE`.svg or .png; .html or .pdf has the words too; - is SVG on standard output", ".svg", ".png", ".pdf", ".html")
	addForce(set, &o.force)
	return c
}

func (o *motionsOptions) run(a *frame.App, _ []string) error {
	m, err := o.guide(a)
	if err != nil {
		return err
	}
	motions := m.Hands.Motions()
	if o.all {
		motions = hold.Motions(m.Mirror)
	}
	for _, motion := range motions {
		if (o.method == "" || motion.Method.String() == o.method) && (o.side == "" || motion.Side == sides[o.side]) {
			m.Motions = append(m.Motions, motion)
		}
	}
	best := hold.Recommend(m.Hold, m.Carry).Method
	if !o.all {
		slices.SortStableFunc(m.Motions, func(a, b hold.Motion) int { return rank(a, best) - rank(b, best) })
	}
	if o.picture.asked() {
		err := o.picture.write(a, o.force, "wrote "+o.picture.name, func(w io.Writer) error {
			return writeDrawn(w, o.picture.kind(), m.Scene, m.Document, paper.A4)
		})
		if err != nil || o.picture.isAnswer() || !a.Flags.JSON {
			return err
		}
	}
	return a.Answer(1, m)
}

// rank puts the recommended method before the other, then the knit side before the purl side.
func rank(m hold.Motion, best floats.Method) int {
	n := int(m.Side)
	if m.Method != best {
		n += 2
	}
	return n
}

// guide is for what is given, else for how the current piece is held, else as the settings say.
func (o *motionsOptions) guide(a *frame.App) (*answer.Motions, error) {
	grip, mirror := usualGrip(a)
	grip = grip.Changed(session.Grip{Hold: o.hold, Carry: o.carry})
	m := &answer.Motions{All: o.all, Hands: grip.Hands(mirror || o.mirror)}
	err := hold.CheckCarry(m.Hold, m.Carry)
	if err != nil && o.carry == "" {
		m.Carry, err = hold.Parallel, nil // the carry was that of another hold
	}
	return m, err
}

// usualGrip is that of the current piece; without one, or a store that can be read, that of the settings.
func usualGrip(a *frame.App) (grip session.Grip, mirror bool) {
	var p *stored.Piece
	if stored.View(a, func(tx *store.Tx) (err error) {
		p, err = stored.Current(a, tx)
		return err
	}) == nil {
		return p.State.Setup.Grip, p.State.Setup.Mirror
	}
	settleHold(a, &grip)
	return grip, a.Settings.Yes("mirror")
}
