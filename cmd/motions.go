package cmd

import (
	"context"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/paper"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/session/hold"
	"strandwise/store"
)

// motionsOptions are the flags of motions.
type motionsOptions struct {
	hold, carry, method, side string
	mirror                    bool
	all                       bool
	picture                   string
	force                     bool
}

// The words of the sides.
const (
	knitWord = "knit"
	purlWord = "purl"
)

func newMotions(a *frame.App) *cobra.Command {
	o := &motionsOptions{}
	c := a.Leaf(frame.Spec{
		Use:   "motions",
		Short: "show how a catch is made with your hold",
		Long: "Shows the motions that catch a float, step by step, for the way you hold your yarns: that of the current piece, or the one in the settings, or the one named. Motions that were worked out and not taken from a teacher are marked, with a chart to try them on.\n\n" +
			"With --all every motion there is: each hold, place of the carried yarn, side and method once.",
		Examples: []string{
			"strandwise motions --hold two-hands",
			"strandwise motions --hold one-at-a-time --carry rotating --method twist",
			"strandwise motions --hold two-hands --method weave --picture weave.svg",
		},
		JSON: true,
	}, func(ctx context.Context, _ []string) error { return runMotions(ctx, a, o) })
	set := c.Flags()
	set.Var(frame.OneOf(&o.hold, frame.WordsOf(hold.Holds())...), "hold", "how you hold the yarns, as `HOLD`: "+session.Listed(frame.WordsOf(hold.Holds()), "or"))
	set.Var(frame.OneOf(&o.carry, frame.WordsOf([]hold.Carry{hold.Parallel, hold.Rotating})...), "carry", "the order the strands keep: `parallel|rotating`")
	set.Var(frame.OneOf(&o.method, frame.WordsOf(hold.Methods())...), "method", "only this method: `weave|twist` (default: both, the recommended one first)")
	set.Var(frame.OneOf(&o.side, knitWord, purlWord), "side", "only this side: `knit|purl` (default: both)")
	set.BoolVar(&o.mirror, "mirror", false, "you work from the right needle to the left")
	set.BoolVar(&o.all, "all", false, "every motion there is")
	set.StringVar(&o.picture, "picture", "", "draw each step into `FILE`.svg or .png; .html or .pdf has the words too; - is SVG on standard output")
	set.BoolVar(&o.force, "force", false, "replace a file that is there")
	return c
}

func runMotions(ctx context.Context, a *frame.App, o *motionsOptions) error {
	m, err := guide(a, ctx, o)
	if err != nil {
		return err
	}
	for _, motion := range o.motions(m.Hands) {
		if o.shows(m, motion) {
			m.List = append(m.List, motion)
		}
	}
	best := hold.Recommend(m.Hold, m.Carry).Method
	if !o.all {
		slices.SortStableFunc(m.List, func(a, b hold.Motion) int { return rank(a, best) - rank(b, best) })
	}
	shown := answer.NewMotions(*m)
	if o.picture == "" {
		return write(a, 1, shown)
	}
	return drawMotions(a, ctx, o, shown)
}

// drawMotions writes the drawings into the file asked for, and answers a program as ever.
func drawMotions(a *frame.App, ctx context.Context, o *motionsOptions, m *answer.Motions) error {
	page := paper.A4
	draws, err := pictureWriter(o.picture, m.Scene, m.Document, page)
	if strings.EqualFold(filepath.Ext(o.picture), ".html") {
		draws, err = func(w io.Writer) error { return document.WriteHTML(w, m.Document(), page) }, nil
	}
	if err != nil {
		return err
	}
	if err := a.WriteOutput(ctx, o.picture, o.force, draws); err != nil {
		return err
	}
	switch {
	case o.picture == frame.FromStdin:
		return nil
	case a.Flags.JSON:
		return write(a, 1, m)
	}
	a.Say("wrote "+o.picture, "")
	return nil
}

// motions are those of the knitter's own hands, or of all holds as they usually are.
func (o *motionsOptions) motions(h hold.Hands) []hold.Motion {
	if !o.all {
		return h.Motions()
	}
	list := hold.Motions()
	for i := range list {
		if h.Mirror {
			list[i] = list[i].Mirror()
		}
	}
	return list
}

// rank orders the recommended method before the other, then the knit side before
// the purl side.
func rank(m hold.Motion, best hold.Method) int {
	n := int(m.Side)
	if m.Method != best {
		n += 2
	}
	return n
}

// shows reports whether a motion is asked for.
func (o *motionsOptions) shows(g *answer.Guide, m hold.Motion) bool {
	switch {
	case o.method != "" && m.Method.String() != o.method:
		return false
	case o.side != "" && m.Side != map[string]hold.Side{knitWord: hold.KnitSide, purlWord: hold.PurlSide}[o.side]:
		return false
	}
	return o.all || m.Hold == g.Hold && m.Carry == g.Carry
}

// guide finds the hold, carry and hand the guide is for: what is given, else those of
// the current piece, else the settings.
func guide(a *frame.App, ctx context.Context, o *motionsOptions) (*answer.Guide, error) {
	m := &answer.Guide{All: o.all}
	grip, mirror, err := usualGrip(a, ctx)
	if err != nil {
		return nil, err
	}
	if o.hold != "" && o.hold != grip.Hold {
		grip.Hold, grip.Lower = o.hold, ""
	}
	if o.carry != "" {
		grip.Carry = o.carry
	}
	if _, _, err := holdAndCarry(grip); err != nil {
		return nil, err
	}
	m.Hands = grip.Hands(mirror || o.mirror)
	if o.carry == "" && hold.CheckCarry(m.Hold, m.Carry) != nil {
		m.Carry = hold.Parallel // the carry was that of another hold
	}
	return m, hold.CheckCarry(m.Hold, m.Carry)
}

// usualGrip is how the current piece is held; without a piece, or a store that can be
// read, what the settings say.
func usualGrip(a *frame.App, ctx context.Context) (session.Grip, bool, error) {
	var setup session.CastOn
	if err := stored.View(a, ctx, func(tx *store.Tx) error {
		p, err := stored.Current(a, tx)
		if err == nil {
			setup = p.State.Setup
		}
		return err
	}); err == nil {
		return setup.Grip, setup.Mirror, nil
	}
	var grip session.Grip
	if err := settleHold(a, &grip); err != nil {
		return grip, false, err
	}
	mirror, err := a.Settings.Yes("mirror")
	return grip, mirror, err
}
