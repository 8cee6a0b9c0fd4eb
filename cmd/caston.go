package cmd

import (
	"cmp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
)

// trial is a piece as it would be cast on: the flags that say how, and what comes of them.
type trial struct {
	session.CastOn
	repeats, times int
	limit          string       // as given: a length is read by the gauge
	gauge          floats.Gauge // zero where none is given
	item           string
	grip           gripFlags // of a cast-on
	given          func(flag string) bool
	picture        outFile // of its floats

	chart *chart.Chart
	piece *session.Piece // not planned
	from  string         // where the limit comes from, in words
}

const trialMost = 2_000_000

func newTrial() *trial {
	t := &trial{repeats: 1, times: 1, item: floats.Items[0].Word}
	t.Method, t.RestLimit = floats.Weave.String(), floats.DefaultRestLimit
	return t
}

func newCastOn(a *frame.App) *cobra.Command {
	t := newTrial()
	c := a.Leaf(frame.Spec{Use: "cast-on NAME PART...", Writes: true, JSON: true}, t.runCastOn)
	set := c.Flags()
	t.addSize(set)
	t.grip.add(set)
	set.BoolVar(&t.Mirror, "mirror", false, "you work from the right needle to the left (default: the setting, else no)")
	set.IntVar(&t.RestLimit, "rest", t.RestLimit, "`ROWS` a yarn may rest without being cut")
	t.given = set.Changed
	return c
}

func (t *trial) runCastOn(a *frame.App, args []string) error {
	parts, err := stored.ReadParts(a, args[1:])
	if err != nil {
		return err
	}
	if err := t.settle(); err != nil {
		return err
	}
	if !t.given("mirror") {
		t.Mirror = a.Settings.Yes("mirror")
	}
	if t.Grip, err = gripFor(a, t.grip, parts.Yarns()); err != nil {
		return err
	}
	t.Name, t.Parts = args[0], parts.Refs
	if err := (&session.State{}).Check(&t.CastOn); err != nil {
		return err
	}
	more, err := lowerFor(a, t.grip.Lower, t.Grip.Hands(t.Mirror))
	if err != nil {
		return err
	}
	begun, err := stored.CastOn(a, &t.CastOn, parts, more)
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewCastOn(begun.Piece, answer.CastOnOptions{LimitFrom: t.from, FirstEver: begun.FirstEver, Alike: document.Alike(a.Display(), begun.Layout.Fabric.Yarns)}))
}

func (t *trial) addFlags(c *cobra.Command) {
	set := c.Flags()
	set.IntVar(&t.repeats, "repeats", t.repeats, "`N` repeats side by side")
	set.IntVar(&t.times, "times", t.times, "`N` times upward")
	t.addSize(set)
	set.BoolVar(&t.Mirror, "mirror", false, "worked from the right needle to the left")
	set.Var(frame.OneOf(&t.Method, methods...), "method", "how floats are caught: `weave|twist`")
	set.IntVar(&t.RestLimit, "rest", t.RestLimit, "rows a yarn may rest without being cut: `ROWS`")
}

func (t *trial) addSize(set *pflag.FlagSet) {
	set.StringVar(&t.limit, "limit", "", "the longest gap, in stitches (5) or as a length (2cm, 3/4in): `LIMIT` (default: from the gauge and the item, else 5 stitches)")
	set.Func("gauge", "stitches x rows over a length: `22x24/10cm`, 20/4in or 23x25/9.5x10cm", readInto(&t.gauge, floats.ParseGauge))
	set.Var(frame.OneOf(&t.item, itemWords...), "item", "what is knitted, for the limit at your gauge: `"+strings.Join(itemWords, "|")+"`")
	set.BoolVar(&t.Flat, "flat", false, "worked back and forth (default: in the round)")
}

var itemWords = listOf(floats.Items, func(i floats.Item) string { return i.Word })

// read takes copies asked for with the name of the chart beside those of the flags.
func (t *trial) read(a *frame.App, word string) error {
	part, err := stored.ReadChart(a, word)
	if err != nil {
		return err
	}
	ref := part.Ref
	ref.Repeats, ref.Times = ref.Repeats*t.repeats, ref.Times*t.times
	if err := cmp.Or(
		checkCount("repeats", ref.Repeats, 1, 1), checkCount("times", ref.Times, 1, 1),
		t.settle(),
	); err != nil {
		return err
	}
	t.chart, t.Name, t.Parts = part.Chart, ref.Name, []session.PartRef{ref}
	charts := stored.Parts{Drawn: []stored.Part{part}}
	if err := session.CheckSize(t.Parts, charts.Chart); err != nil {
		return err
	}
	t.piece, err = session.Uncast(&t.CastOn, charts.Chart)
	return err
}

func checkCount(flag string, n, least, usual int) error {
	if n < least || n > trialMost {
		return frame.Usage("--%s takes a whole number from %d to %d, not %d", flag, least, trialMost, n).Hint("--%s %d", flag, usual)
	}
	return nil
}

// settle finds gauge, item and limit: as given, from the gauge, or the usual one; from says which.
func (t *trial) settle() (err error) {
	t.Item = session.Item(slices.Index(itemWords, t.item))
	item := floats.Items[t.Item]
	t.Gauge, t.Limit, t.from = t.gauge.String(), floats.DefaultLimit, "the usual one where no gauge is given"
	switch {
	case t.limit != "":
		t.from = "as given"
		if t.Limit, err = floats.ParseLimit(t.limit, t.gauge); err != nil {
			return err
		}
	case !t.gauge.IsZero():
		t.Limit, t.from = t.gauge.Limit(item), "from the gauge "+t.Gauge+", for "+itemPhrases[t.item]
	case item != floats.Items[0]:
		return frame.Usage("the limit for %s is a length, which needs the gauge", itemPhrases[t.item]).
			Hint("--gauge 22x24/10cm beside --item %s, or --limit in stitches", t.item)
	}
	return checkCount("rest", t.RestLimit, 0, floats.DefaultRestLimit)
}

var itemPhrases = map[string]string{
	"general": "a general item", "sleeve": "a sleeve", "hands-feet": "hands or feet", "baby": "a baby",
}
