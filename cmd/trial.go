package cmd

import (
	"cmp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
)

// trial is a chart file laid out as it would be knitted, before anything is cast
// on: the flags that say how, and what comes of them.
type trial struct {
	repeats, times int
	limit          string       // as given: a length is read by the gauge
	gauge          floats.Gauge // zero where none is given
	item           string
	method         string
	flat, mirror   bool
	rest           int
}

// trialMost is the largest number that a count of a trial takes.
const trialMost = 2_000_000

// newTrial is a trial with the defaults of its flags.
func newTrial() *trial {
	return &trial{repeats: 1, times: 1, item: floats.Items[0].Word, method: floats.Weave.String(), rest: floats.DefaultRestLimit}
}

func (t *trial) addFlags(c *cobra.Command) {
	set := c.Flags()
	set.IntVar(&t.repeats, "repeats", t.repeats, "`N` repeats side by side")
	set.IntVar(&t.times, "times", t.times, "`N` times upward")
	t.addSize(set)
	set.BoolVar(&t.mirror, "mirror", false, "worked from the right needle to the left")
	set.Var(frame.OneOf(&t.method, floats.Weave.String(), floats.Twist.String()), "method", "how floats are caught: `weave|twist`")
	set.IntVar(&t.rest, "rest", t.rest, "rows a yarn may rest without being cut: `ROWS`")
}

// addSize adds the flags of how the piece is worked and how long its floats may be.
func (t *trial) addSize(set *pflag.FlagSet) {
	set.StringVar(&t.limit, "limit", "", "the longest gap, in stitches (5) or as a length (2cm, 3/4in): `LIMIT` (default: from the gauge and the item, else 5 stitches)")
	set.Var(readInto(&t.gauge, floats.ParseGauge), "gauge", "stitches x rows over a length: `22x24/10cm`, 20/4in or 23x25/9.5x10cm")
	set.Var(frame.OneOf(&t.item, itemWords()...), "item", "what is knitted, for the limit at your gauge: `"+strings.Join(itemWords(), "|")+"`")
	set.BoolVar(&t.flat, "flat", false, "worked back and forth (default: in the round)")
}

func itemWords() []string {
	return listOf(floats.Items, func(i floats.Item) string { return i.Word })
}

// laid is a chart laid out for a trial.
type laid struct {
	part   floats.Part
	fabric *floats.Fabric
	task   floats.Task
	from   string // where the limit comes from, in words
}

// read reads a chart and lays it out as the flags say; copies asked for with its name are
// beside those of the flags.
func (t *trial) read(a *frame.App, word string) (*laid, error) {
	p, err := stored.ReadChart(a, word)
	if err != nil {
		return nil, err
	}
	l := &laid{part: floats.Part{Name: p.Ref.Name, Chart: p.Chart, Repeats: t.repeats * p.Ref.Repeats, Times: t.times * p.Ref.Times}}
	if err := cmp.Or(
		checkCount("repeats", l.part.Repeats, 1, 1), checkCount("times", l.part.Times, 1, 1),
		checkCount("rest", t.rest, 0, floats.DefaultRestLimit),
	); err != nil {
		return nil, err
	}
	if l.task.Limit, l.from, err = t.limits(); err != nil {
		return nil, err
	}
	l.task.Method, l.task.RestLimit = session.Grip{Method: t.method}.FloatMethod(), t.rest
	l.fabric, err = floats.Lay([]floats.Part{l.part}, floats.Work{Flat: t.flat, Mirror: t.mirror})
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
