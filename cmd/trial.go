package cmd

import (
	"cmp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// trial is a piece as it would be cast on, for what is told before anything is: the flags that
// say how, and what comes of them.
type trial struct {
	session.CastOn
	repeats, times int
	limit          string       // as given: a length is read by the gauge
	gauge          floats.Gauge // zero where none is given
	item           string
}

// trialMost is the largest number that a count of a trial takes.
const trialMost = 2_000_000

// newTrial is a trial with the defaults of its flags.
func newTrial() *trial {
	t := &trial{repeats: 1, times: 1, item: floats.Items[0].Word}
	t.Method, t.RestLimit = floats.Weave.String(), floats.DefaultRestLimit
	return t
}

func (t *trial) addFlags(c *cobra.Command) {
	set := c.Flags()
	set.IntVar(&t.repeats, "repeats", t.repeats, "`N` repeats side by side")
	set.IntVar(&t.times, "times", t.times, "`N` times upward")
	t.addSize(set)
	set.BoolVar(&t.Mirror, "mirror", false, "worked from the right needle to the left")
	set.Var(frame.OneOf(&t.Method, frame.WordsOf(hold.Methods())...), "method", "how floats are caught: `weave|twist`")
	set.IntVar(&t.RestLimit, "rest", t.RestLimit, "rows a yarn may rest without being cut: `ROWS`")
}

// addSize adds the flags of how the piece is worked and how long its floats may be.
func (t *trial) addSize(set *pflag.FlagSet) {
	set.StringVar(&t.limit, "limit", "", "the longest gap, in stitches (5) or as a length (2cm, 3/4in): `LIMIT` (default: from the gauge and the item, else 5 stitches)")
	set.Var(readInto(&t.gauge, floats.ParseGauge), "gauge", "stitches x rows over a length: `22x24/10cm`, 20/4in or 23x25/9.5x10cm")
	set.Var(frame.OneOf(&t.item, itemWords()...), "item", "what is knitted, for the limit at your gauge: `"+strings.Join(itemWords(), "|")+"`")
	set.BoolVar(&t.Flat, "flat", false, "worked back and forth (default: in the round)")
}

func itemWords() []string {
	return listOf(floats.Items, func(i floats.Item) string { return i.Word })
}

// laid is the chart of a trial, laid out.
type laid struct {
	chart  *chart.Chart
	fabric *floats.Fabric
	task   floats.Task
	from   string // where the limit comes from, in words
}

// read reads a chart and lays it out as the flags say; copies asked for with its name are
// beside those of the flags.
func (t *trial) read(a *frame.App, word string) (*laid, error) {
	part, err := stored.ReadChart(a, word)
	if err != nil {
		return nil, err
	}
	ref := part.Ref
	ref.Repeats, ref.Times = ref.Repeats*t.repeats, ref.Times*t.times
	if err := cmp.Or(
		checkCount("repeats", ref.Repeats, 1, 1), checkCount("times", ref.Times, 1, 1),
		checkCount("rest", t.RestLimit, 0, floats.DefaultRestLimit),
	); err != nil {
		return nil, err
	}
	l := &laid{chart: part.Chart}
	if t.Limit, l.from, err = t.limits(); err != nil {
		return nil, err
	}
	t.Name, t.Parts, t.Gauge = ref.Name, []session.PartRef{ref}, t.gauge.String()
	l.task = floats.Task{Limit: t.Limit, Method: t.FloatMethod(), RestLimit: t.RestLimit}
	layout, err := session.LayParts(t.Parts, stored.Parts{Drawn: []stored.Part{part}}.Charts().Find, floats.Work{Flat: t.Flat, Mirror: t.Mirror})
	if err == nil {
		l.fabric = layout.Fabric
	}
	return l, err
}

// checkCount refuses a count that is too small or too large, and offers the usual one.
func checkCount(flag string, n, least, usual int) error {
	if n < least || n > trialMost {
		return frame.Usage("--%s takes a whole number from %d to %d, not %d", flag, least, trialMost, n).Hint("--%s %d", flag, usual)
	}
	return nil
}

// limits is the limit, which is given, from the gauge, or the usual one; from says which.
func (t *trial) limits() (limit int, from string, err error) {
	item, _ := floats.ItemNamed(t.item)
	switch {
	case t.limit != "":
		limit, err = floats.ParseLimit(t.limit, t.gauge)
		return limit, "as given", err
	case !t.gauge.IsZero():
		return t.gauge.Limit(item), "from the gauge " + t.gauge.String() + ", for " + itemPhrases[t.item], nil
	case item != floats.Items[0]:
		return 0, "", frame.Usage("the limit for %s is a length, which needs the gauge", itemPhrases[t.item]).
			Hint("--gauge 22x24/10cm beside --item %s, or --limit in stitches", t.item)
	}
	return floats.DefaultLimit, "the usual one where no gauge is given", nil
}

// itemPhrases name the items in a sentence.
var itemPhrases = map[string]string{
	"general": "a general item", "sleeve": "a sleeve", "hands-feet": "hands or feet", "baby": "a baby",
}
