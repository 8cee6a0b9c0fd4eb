package cmd

import (
	"cmp"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/floats"
	"strandwise/session"
)

// swatchOptions are the flags of swatch.
type swatchOptions struct {
	unwashed       string
	stitches, rows int
	width, height  string
	repeat         int
	flat           bool

	given func(flag string) bool // whether a flag was
}

func newSwatch(a *frame.App) *cobra.Command {
	o := &swatchOptions{repeat: 1}
	c := a.Leaf(frame.Spec{Use: "swatch GAUGE", JSON: true}, o.run)
	set := c.Flags()
	o.given = set.Changed
	set.StringVar(&o.unwashed, "unwashed", "", "the `GAUGE` of the same swatch before washing")
	set.IntVar(&o.stitches, "stitches", 0, "how wide `N` stitches are")
	set.StringVar(&o.width, "width-of", "", "how many stitches make this `WIDTH`: 52cm, 20.5in")
	set.IntVar(&o.repeat, "repeat", o.repeat, "the count is to be whole repeats of `N` stitches")
	set.IntVar(&o.rows, "row-count", 0, "how high `N` rows are")
	set.StringVar(&o.height, "height", "", "how many rows make this `HEIGHT`: 18cm")
	set.BoolVar(&o.flat, "flat", false, "the piece will be worked back and forth (default: in the round)")
	return c
}

func (o *swatchOptions) run(a *frame.App, args []string) error {
	s, err := o.swatch(args[0])
	if err != nil {
		return err
	}
	s.Inches = inches(a) || s.Gauge.Unit() == floats.Inch
	return a.Answer(1, answer.NewSwatch(*s))
}

// swatch reads the gauge and what was asked.
func (o *swatchOptions) swatch(gauge string) (*answer.SwatchAsked, error) {
	s := &answer.SwatchAsked{Stitches: o.stitches, Rows: o.rows, Repeat: o.repeat, Flat: o.flat}
	var err error
	if s.Gauge, err = floats.ParseGauge(gauge); err != nil {
		return nil, asUsage(err)
	}
	return s, cmp.Or(
		readGiven(&s.Unwashed, o.unwashed, floats.ParseGauge),
		readGiven(&s.Width, o.width, session.ParseLength),
		readGiven(&s.Height, o.height, session.ParseLength),
		o.check(s),
	)
}

func (o *swatchOptions) check(s *answer.SwatchAsked) error {
	for _, c := range []struct {
		flag string
		n    int
	}{{"--stitches", o.stitches}, {"--row-count", o.rows}, {"--repeat", o.repeat}} {
		if !o.given(strings.TrimPrefix(c.flag, "--")) {
			continue
		}
		if err := session.CheckCount(c.flag, c.n); err != nil {
			return frame.Usage("%v", err).Because(err).Hint("%s 24", c.flag)
		}
	}
	if (s.Rows > 0 || s.Height > 0) && s.Gauge.RowHeight() == 0 {
		return frame.Usage("gauge %q has no rows, so heights are not known", s.Gauge).Hint("strandwise swatch 22x24/10cm")
	}
	return nil
}
