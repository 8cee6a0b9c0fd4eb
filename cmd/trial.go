package cmd

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
)

// trial is a chart file laid out as it would be knitted, before anything is cast
// on: the flags that say how, and what comes of them.
type trial struct {
	repeats, times int
	limit          string
	gauge          string
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
	set.StringVar(&t.gauge, "gauge", "", "stitches x rows over a length: `22x24/10cm`, 20/4in or 23x25/9.5x10cm")
	set.Var(frame.OneOf(&t.item, itemWords()...), "item", "what is knitted, for the limit at your gauge: `"+strings.Join(itemWords(), "|")+"`")
	set.BoolVar(&t.flat, "flat", false, "worked back and forth (default: in the round)")
}

func itemWords() []string {
	words := make([]string, len(floats.Items))
	for i, it := range floats.Items {
		words[i] = it.Word
	}
	return words
}

// laid is a chart laid out for a trial.
type laid struct {
	title  string
	chart  *chart.Chart
	fabric *floats.Fabric
	gauge  floats.Gauge // may be zero
	item   floats.Item
	task   floats.Task
	from   string // where the limit comes from, in words
}

// lay lays a chart out as the flags say.
func (t *trial) lay(title string, c *chart.Chart) (*laid, error) {
	if err := t.check(c); err != nil {
		return nil, err
	}
	l := &laid{title: title, chart: c, task: floats.Task{RestLimit: t.rest}}
	if t.method == floats.Twist.String() {
		l.task.Method = floats.Twist
	}
	l.item, _ = floats.ItemNamed(t.item)
	if err := t.settleLimit(l); err != nil {
		return nil, err
	}
	var err error
	l.fabric, err = floats.Lay([]floats.Part{t.part(stored.ChartName(title), c)}, floats.Work{Flat: t.flat, Mirror: t.mirror})
	return l, err
}

func (t *trial) part(name string, c *chart.Chart) floats.Part {
	return floats.Part{Name: name, Chart: c, Repeats: t.repeats, Times: t.times}
}

func (t *trial) check(c *chart.Chart) error {
	for _, count := range []struct {
		flag     string
		got, min int
	}{{"repeats", t.repeats, 1}, {"times", t.times, 1}, {"rest", t.rest, 0}} {
		if count.got < count.min || count.got > trialMost {
			return frame.Usage("--%s takes a whole number from %d to %d, not %d", count.flag, count.min, trialMost, count.got).
				Hint("--%s %d", count.flag, max(count.min, 1))
		}
	}
	return floats.CheckSize([]floats.Part{t.part("", c)})
}

// settleLimit finds the limit: given, from the gauge, or the usual one.
func (t *trial) settleLimit(l *laid) error {
	var err error
	if t.gauge != "" {
		if l.gauge, err = floats.ParseGauge(t.gauge); err != nil {
			return asUsage(err)
		}
	}
	switch {
	case t.limit != "":
		l.from = "as given"
		l.task.Limit, err = floats.ParseLimit(t.limit, l.gauge)
		return asUsage(err)
	case !l.gauge.IsZero():
		l.from = "from the gauge " + l.gauge.String() + ", for " + itemPhrase(l.item)
		l.task.Limit = l.gauge.Limit(l.item)
	case l.item != floats.Items[0]:
		return frame.Usage("the limit for %s is a length, which needs the gauge", itemPhrase(l.item)).
			Hint("--gauge 22x24/10cm beside --item %s, or --limit in stitches", l.item.Word)
	default:
		l.from = "the usual one where no gauge is given"
		l.task.Limit = floats.DefaultLimit
	}
	return nil
}

// itemPhrases name the items in a sentence.
var itemPhrases = map[string]string{
	"general": "a general item", "sleeve": "a sleeve", "hands-feet": "hands or feet", "baby": "a baby",
}

func itemPhrase(it floats.Item) string { return itemPhrases[it.Word] }

// read reads a chart and lays it out; copies asked for with its name are beside those of
// the flags.
func (t *trial) read(a *frame.App, word string) (*laid, error) {
	c, title, across, up, err := readCopies(a, word)
	if err != nil {
		return nil, err
	}
	t.repeats, t.times = t.repeats*across, t.times*up
	return t.lay(title, c)
}

// name is what to call the chart.
func (l *laid) name() string {
	if l.chart.Title != "" {
		return l.chart.ShownTitle()
	}
	return stored.ChartName(l.title)
}
