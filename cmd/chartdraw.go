package cmd

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/chart/picture"
	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
)

// drawOptions are the flags of chart draw.
type drawOptions struct {
	out         string
	force       bool
	gauge       string
	cell        string
	bare, lines bool
	flat        bool

	given func(flag string) bool
}

// usualCell is how many pixels wide a stitch is drawn.
const usualCell = 14

func newChartDraw(a *frame.App) *cobra.Command {
	o := &drawOptions{}
	c := a.Leaf(frame.Spec{Use: "draw FILE"}, o.run)
	set := c.Flags()
	o.given = set.Changed
	set.StringVarP(&o.out, "output", "o", frame.FromStdin, "the picture to write, `NAME`.svg or .png; - is the terminal")
	set.BoolVar(&o.force, "force", false, "replace a file that is there")
	set.StringVar(&o.gauge, "gauge", "", "stitches x rows, for the shape of a stitch: `22x24/10cm` (default: square)")
	set.StringVar(&o.cell, "cell", "", fmt.Sprintf("pixels of a stitch in a picture, `WxH` (default: %d wide, as high as the gauge says)", usualCell))
	set.BoolVar(&o.bare, "bare", false, "leave out numbers, names and signs")
	set.BoolVar(&o.lines, "lines", true, "lines between the stitches")
	set.BoolVar(&o.flat, "flat", false, "number even rows at the left, where they begin")
	return c
}

func (o *drawOptions) run(a *frame.App, args []string) error {
	if flag := o.forPicture(); o.out == frame.FromStdin && flag != "" {
		return frame.Usage("--%s is for a picture, and without -o the chart is drawn on the terminal", flag).Hint("-o NAME.svg or -o NAME.png beside it")
	}
	c, _, err := readChart(a, args[0])
	if err != nil {
		return err
	}
	width, height, err := o.shape()
	if err != nil {
		return err
	}
	if o.out == frame.FromStdin {
		grid := draw.TextOf(c, o.flat)
		grid.Chars = draw.CharsFor(width, height)
		return grid.Letters(a.Out, a.Display())
	}
	write, err := o.writer(c, width, height)
	if err != nil {
		return err
	}
	if err := a.WriteOutput(o.out, o.force, write); err != nil {
		return err
	}
	a.Say("wrote "+o.out, "")
	return nil
}

// forPicture names a flag given that a drawing on the terminal has no use for; empty where
// there is none.
func (o *drawOptions) forPicture() string {
	for _, flag := range []string{"cell", "bare", "lines", "force"} {
		if o.given(flag) {
			return flag
		}
	}
	return ""
}

// shape is the width and height of a stitch at the gauge, any unit.
func (o *drawOptions) shape() (width, height float64, err error) {
	if o.gauge == "" {
		return 1, 1, nil
	}
	g, err := floats.ParseGauge(o.gauge)
	if err != nil {
		return 0, 0, asUsage(err)
	}
	if g.RowHeight() == 0 {
		return 0, 0, frame.Usage("gauge %q has no rows, so the shape of a stitch is not known", o.gauge).Hint("--gauge 22x24/10cm")
	}
	return g.StitchWidth(), g.RowHeight(), nil
}

// writer picks the kind of picture by the ending of its name.
func (o *drawOptions) writer(c *chart.Chart, width, height float64) (func(io.Writer) error, error) {
	d := draw.Drawing{Lines: o.lines, Numbers: !o.bare, Flat: o.flat}
	d.CellWidth, d.CellHeight = draw.CellFor(usualCell, width, height)
	if o.cell != "" {
		var err error
		if d.CellWidth, d.CellHeight, err = pixels("cell", o.cell); err != nil {
			return nil, err
		}
	}
	if d.CellWidth < 4 || d.CellHeight < 4 {
		d.Lines = false // nothing would be left of the stitches
	}
	switch strings.ToLower(filepath.Ext(o.out)) {
	case ".svg":
		return enclosing(c, func(w io.Writer) error { return draw.SVG(w, draw.Chart(c, d)) }), nil
	case ".png":
		return enclosing(c, func(w io.Writer) error { return pictureFault(draw.PNG(w, draw.Chart(c, d))) }), nil
	}
	return nil, frame.Usage("%s has no ending that says which picture to draw", o.out).Hint("-o %s.svg or -o %s.png", stored.ChartName(o.out), stored.ChartName(o.out))
}

// enclosing puts the chart into its picture, so that it can be imported as it is.
func enclosing(c *chart.Chart, write func(io.Writer) error) func(io.Writer) error {
	return func(w io.Writer) error {
		var plain bytes.Buffer
		if err := write(&plain); err != nil {
			return err
		}
		_, err := w.Write(picture.Enclose(plain.Bytes(), c))
		return err
	}
}

func pictureFault(err error) error {
	var large *draw.TooLargeError
	if errors.As(err, &large) {
		return frame.Usage("%v", err).Hint("--cell with fewer pixels, or an .svg").Because(err)
	}
	return err
}

// mostPixels is the largest cell that is drawn or read.
const mostPixels = 1000

// pixels reads a size such as 12x10.
func pixels(flag, text string) (width, height int, err error) {
	width, height, ok := twoNumbers(text, "%dx%d")
	if !ok || width < 1 || height < 1 || width > mostPixels || height > mostPixels {
		return 0, 0, frame.Usage("--%s takes pixels as WxH, each 1 to %d, not %q", flag, mostPixels, text).Hint("--%s 12x10", flag)
	}
	return width, height, nil
}
