package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
)

// castOnOptions are the flags of cast-on.
type castOnOptions struct {
	trial // but for its method, repeats and times
	grip  gripFlags

	mirrorGiven func() bool
}

func newCastOn(a *frame.App) *cobra.Command {
	o := &castOnOptions{trial: *newTrial()}
	c := a.Leaf(frame.Spec{
		Use:   "cast-on NAME PART...",
		Short: "begin a piece from chart files",
		Long: "Begins a piece: lays its parts out row by row, plans where every long float is to be caught, and makes it the current piece.\n\n" +
			"Parts are worked in the order given. A part is a chart file, with how often it stands in a round and how often it is worked upward: band.chart@12 or band.chart@12x2. A symbol and a number are plain rows of that yarn: x:10; the last of them may add or take stitches, spread evenly: x:2inc24, x:1dec12. Yarns are matched across parts by symbol.\n\n" +
			"Parts joined by a + of its own stand side by side, the first worked first in a right-side row: edge.chart + band.chart@8 + edge.chart. Their rows, times upward, must come out the same. steek:5 is a block of 5 more stitches in stripes, within which the round begins and the work is cut open in the end.\n\n" +
			"The limit is the longest stretch a yarn may pass uncaught. Without --limit it comes from the gauge by the knitters' rule of about an inch; --item asks for less where fingers or toes may catch in a strand. Those lengths are this program's choice, not a standard.",
		British: "In the UK gauge is called tension.",
		Examples: []string{
			"strandwise cast-on lantern-hat example:lantern-band@4 --gauge 20x22/4in",
			"strandwise cast-on trial-cowl x:3 example:lantern-band@5 x:3 --limit 2cm --gauge 22x24/10cm --hold left-one-finger",
			"strandwise cast-on trial-panel example:pier-panel --flat --limit 5",
		},
		Least: 2, Most: frame.AnyNumber, Writes: true, JSON: true,
	}, func(a *frame.App, args []string) error { return runCastOn(a, o, args[0], args[1:]) })
	set := c.Flags()
	o.addSize(set)
	o.grip.add(set)
	set.BoolVar(&o.mirror, "mirror", false, "you work from the right needle to the left (default: the setting, else no)")
	set.IntVar(&o.rest, "rest", o.rest, "`ROWS` a yarn may rest without being cut")
	o.mirrorGiven = func() bool { return set.Changed("mirror") }
	return c
}

func runCastOn(a *frame.App, o *castOnOptions, name string, words []string) error {
	parts, err := stored.ReadParts(a, words)
	if err != nil {
		return err
	}
	event, from, err := o.event(a, name, parts)
	if err != nil {
		return err
	}
	lower, err := lowerFor(a, o.grip.lower, event.Grip.Hands(event.Mirror))
	if err != nil {
		return err
	}
	var more []session.Event
	if lower != nil {
		more = append(more, lower)
	}
	begun, err := stored.CastOn(a, event, parts, more)
	if err != nil {
		return err
	}
	return write(a, 1, answer.NewCastOn(begun.Piece, answer.CastOnOptions{LimitFrom: from, FirstEver: begun.FirstEver, Alike: document.Alike(look(a), begun.Layout.Fabric.Yarns)}))
}

// event makes the cast-on of the flags, and says where its limit comes from.
func (o *castOnOptions) event(a *frame.App, name string, parts []stored.Part) (e *session.CastOn, from string, err error) {
	if o.rest < 0 || o.rest > trialMost {
		return nil, "", frame.Usage("--rest takes a whole number from 0 to %d, not %d", trialMost, o.rest).Hint("--rest %d", floats.DefaultRestLimit)
	}
	l := &laid{}
	l.item, _ = floats.ItemNamed(o.item)
	if err := o.settleLimit(l); err != nil {
		return nil, "", err
	}
	e = &session.CastOn{Name: name, Parts: stored.Refs(parts), Gauge: l.gauge.String(), Limit: l.task.Limit, Flat: o.flat, Mirror: o.mirror, RestLimit: o.rest}
	if e.Item, err = session.ParseItem(o.item); err != nil {
		return nil, "", err
	}
	if !o.mirrorGiven() {
		if e.Mirror, err = a.Settings.Yes("mirror"); err != nil {
			return nil, "", err
		}
	}
	if e.Grip, err = gripFor(a, &o.grip, parts); err != nil {
		return nil, "", err
	}
	return e, l.from, (&session.State{}).Check(e)
}

// justCastOn reports whether nothing was logged since the cast-on.
func justCastOn(p *stored.Piece) bool {
	h := p.State.History()
	return h[len(h)-1].Seq == h[0].Seq
}
