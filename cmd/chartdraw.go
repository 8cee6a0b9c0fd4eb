package cmd

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/chart/picture"
	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
	"strandwise/floats"
)

type drawOptions struct {
	out   outFile
	gauge floats.Gauge // zero where none is given
	cell  twoCounts    // pixels; zero where none is given
	bare  bool
	draw.Drawing
}

const usualCell = 14

func newChartDraw(a *frame.App) *cobra.Command {
	o := &drawOptions{out: outFile{name: frame.FromStdin}}
	c := a.Leaf(frame.Spec{Use: "draw FILE"}, o.run)
	set := c.Flags()
	o.out.add(set, "output", "o", "the picture to write, `NAME`.svg or .png; - is the terminal", ".svg", ".png")
	set.Func("gauge", "stitches x rows, for the shape of a stitch: `22x24/10cm` (default: square)", readInto(&o.gauge, floats.ParseGauge))
	set.Func("cell", fmt.Sprintf("pixels of a stitch in a picture, `WxH` (default: %d wide, as high as the gauge says)", usualCell), readInto(&o.cell, pixels))
	set.BoolVar(&o.bare, "bare", false, "leave out numbers, names and signs")
	set.BoolVar(&o.Lines, "lines", true, "lines between the stitches")
	set.BoolVar(&o.Flat, "flat", false, "number even rows at the left, where they begin")
	return c
}

func (o *drawOptions) run(a *frame.App, args []string) error {
	for _, flag := range []string{"cell", "bare", "lines", "force"} {
		if o.out.isAnswer() && o.out.set.Changed(flag) {
			return frame.Usage("--%s is for a picture, and without -o the chart is drawn on the terminal", flag).Hint("-o NAME.svg or -o NAME.png beside it")
		}
	}
	c, _, err := readChart(a, args[0])
	if err != nil {
		return err
	}
	width, height := 1.0, 1.0 // of a stitch, in any unit
	if !o.gauge.IsZero() {
		width, height = o.gauge.StitchWidth(), o.gauge.RowHeight()
	}
	if height == 0 {
		return frame.Usage("gauge %q has no rows, so the shape of a stitch is not known", o.gauge).Hint("--gauge 22x24/10cm")
	}
	if o.out.isAnswer() {
		grid := draw.TextOf(c, o.Flat)
		grid.Chars = draw.CharsFor(width, height)
		return grid.Letters(a.Out, a.Display())
	}
	o.CellWidth, o.CellHeight = draw.CellFor(usualCell, width, height)
	if o.cell != (twoCounts{}) {
		o.CellWidth, o.CellHeight = o.cell.across, o.cell.up
	}
	if o.Numbers = !o.bare; min(o.CellWidth, o.CellHeight) < 4 {
		o.Lines = false // nothing would be left of the stitches
	}
	return o.out.write(a, "wrote "+o.out.name, "", func(w io.Writer) error { return o.picture(w, c) })
}

// picture writes the picture with the chart in it, so that it can be imported as it is.
func (o *drawOptions) picture(w io.Writer, c *chart.Chart) error {
	var plain bytes.Buffer
	write := draw.SVG
	if o.out.kind() == ".png" {
		write = draw.PNG
	}
	err := write(&plain, draw.Chart(c, o.Drawing))
	if large := (*draw.TooLargeError)(nil); errors.As(err, &large) {
		return frame.Usage("%v", err).Hint("--cell with fewer pixels, or an .svg").Because(err)
	}
	if err == nil {
		_, err = w.Write(picture.Enclose(plain.Bytes(), c))
	}
	return err
}
