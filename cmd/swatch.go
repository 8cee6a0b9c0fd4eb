package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/floats"
	"strandwise/session"
)

type swatchOptions struct {
	answer.SwatchAsked
	given func(flag string) bool // whether a flag was
}

func newSwatch(a *frame.App) *cobra.Command {
	o := &swatchOptions{}
	c := a.Leaf(frame.Spec{Use: "swatch GAUGE", JSON: true}, o.run)
	set := c.Flags()
	o.given = set.Changed
	set.Func("unwashed", "the `GAUGE` of the same swatch before washing", readInto(&o.Unwashed, floats.ParseGauge))
	set.IntVar(&o.Stitches, "stitches", 0, "how wide `N` stitches are")
	set.Func("width-of", "how many stitches make this `WIDTH`: 52cm, 20.5in", readInto(&o.Width, floats.ParseLength))
	set.IntVar(&o.Repeat, "repeat", 1, "the count is to be whole repeats of `N` stitches")
	set.IntVar(&o.Rows, "row-count", 0, "how high `N` rows are")
	set.Func("height", "how many rows make this `HEIGHT`: 18cm", readInto(&o.Height, floats.ParseLength))
	set.BoolVar(&o.Flat, "flat", false, "the piece will be worked back and forth (default: in the round)")
	return c
}

func (o *swatchOptions) run(a *frame.App, args []string) (err error) {
	if o.Gauge, err = floats.ParseGauge(args[0]); err != nil {
		return err
	}
	for _, c := range []struct {
		flag string
		n    int
	}{{"stitches", o.Stitches}, {"row-count", o.Rows}, {"repeat", o.Repeat}} {
		if err := session.CheckCount("--"+c.flag, c.n); err != nil && o.given(c.flag) {
			return frame.Usage("%v", err).Because(err).Hint("--%s 24", c.flag)
		}
	}
	if (o.Rows > 0 || o.Height > 0) && o.Gauge.RowHeight() == 0 {
		return frame.Usage("gauge %q has no rows, so heights are not known", o.Gauge).Hint("strandwise swatch 22x24/10cm")
	}
	o.Inches = inches(a) || o.Gauge.Unit() == floats.Inch
	return a.Answer(1, answer.NewSwatch(o.SwatchAsked))
}
