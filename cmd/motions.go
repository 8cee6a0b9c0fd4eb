package cmd

import (
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
	mirror, all               bool
	picture                   outFile
}

var sides = map[string]hold.Side{"knit": hold.KnitSide, "purl": hold.PurlSide}

func newMotions(a *frame.App) *cobra.Command {
	o := &motionsOptions{}
	c := a.Leaf(frame.Spec{Use: "motions", JSON: true}, o.run)
	set := c.Flags()
	addWord(set, &o.hold, "hold", "how you hold the yarns", holds)
	set.Var(frame.OneOf(&o.carry, carries...), "carry", "the order the strands keep: `parallel|rotating`")
	set.Var(frame.OneOf(&o.method, methods...), "method", "only this method: `weave|twist` (default: both, the recommended one first)")
	set.Var(frame.OneOf(&o.side, "knit", "purl"), "side", "only this side: `knit|purl` (default: both)")
	set.BoolVar(&o.mirror, "mirror", false, "you work from the right needle to the left")
	set.BoolVar(&o.all, "all", false, "every motion there is")
	o.picture.add(set, "picture", "", "draw each step into `FILE`.svg or .png; .html or .pdf has the words too; - is SVG on standard output", ".svg", ".png", ".pdf", ".html")
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
		err := o.picture.draw(a, "wrote "+o.picture.name, m.Scene, m.Document, paper.A4)
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
	var grip session.Grip
	var mirror bool
	if stored.View(a, func(tx *store.Tx) error {
		p, err := stored.Current(a, tx)
		if err == nil {
			grip, mirror = p.State.Setup.Grip, p.State.Setup.Mirror
		}
		return err
	}) != nil { // no piece, or no store that can be read
		settleHold(a, &grip)
		mirror = a.Settings.Yes("mirror")
	}
	grip = grip.Changed(session.Grip{Hold: o.hold, Carry: o.carry})
	m := &answer.Motions{All: o.all, Hands: grip.Hands(mirror || o.mirror)}
	err := hold.CheckCarry(m.Hold, m.Carry)
	if err != nil && o.carry == "" {
		m.Carry, err = hold.Parallel, nil // the carry was that of another hold
	}
	return m, err
}
