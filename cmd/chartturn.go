package cmd

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/frame"
)

// turnOptions are the flags of chart turn, in the order in which they are applied.
type turnOptions struct {
	rows, columns string
	yarns         []string
	swap          string
	flip          bool
	upsideDown    bool
	repeat        string
	beside        string
	stack         string
	into, at      string
	title         string

	out   string
	force bool
}

func newChartTurn(a *frame.App) *cobra.Command {
	o := &turnOptions{}
	c := a.Leaf(frame.Spec{Use: "turn FILE", Least: 1, Most: 1}, o.run)
	set := c.Flags()
	set.StringVar(&o.rows, "rows", "", "keep only these rows, both ends in, row 1 the lowest: `FIRST:LAST`")
	set.StringVar(&o.columns, "columns", "", "keep only these columns, both ends in, column 1 the rightmost: `FIRST:LAST`")
	set.StringArrayVar(&o.yarns, "yarn", nil, "change a yarn: `x=.` works its stitches in yarn . or, where . is free, makes that its symbol; x=NAME, x=#RRGGBB; may be given again")
	set.StringVar(&o.swap, "swap", "", "exchange two yarns, by symbol: `A:B`")
	set.BoolVar(&o.flip, "flip", false, "exchange left and right")
	set.BoolVar(&o.upsideDown, "upside-down", false, "turn by half a turn")
	set.StringVar(&o.repeat, "repeat", "", "repeat across and up: `AxB`")
	set.StringVar(&o.beside, "beside", "", "set another chart at the left: `FILE`")
	set.StringVar(&o.stack, "stack", "", "set another chart above: `FILE`")
	set.StringVar(&o.into, "into", "", "set the chart into another, a plain ground; an empty cell leaves the ground as it is: `FILE`")
	set.StringVar(&o.at, "at", "", "the column and the row of the ground where column 1, row 1 comes to: `C,R`")
	set.StringVar(&o.title, "title", "", "title of the new chart: `TEXT` (default: as it was)")
	set.StringVarP(&o.out, "output", "o", frame.FromStdin, "the chart file to write: `FILE`; - is standard output")
	set.BoolVar(&o.force, "force", false, "replace a file that is there")
	return c
}

func (o *turnOptions) run(a *frame.App, args []string) error {
	c, _, err := readChart(a, args[0])
	if err != nil {
		return err
	}
	if c, err = turned(a, c, o); err != nil {
		return err
	}
	if o.title != "" {
		c.Title = o.title
	}
	if err := c.Validate(); err != nil {
		return frame.Usage("the new chart cannot be written: %v", err).Because(err)
	}
	return writeChart(a, o.out, o.force, c)
}

// turned applies what was asked for, in the order help tells.
func turned(a *frame.App, c *chart.Chart, o *turnOptions) (*chart.Chart, error) {
	for _, step := range []func(*chart.Chart) (*chart.Chart, error){
		o.cropped, o.yarnsChanged, o.swapped, o.flipped, o.repeated,
		func(c *chart.Chart) (*chart.Chart, error) { return joined(a, c, "beside", o.beside, c.Beside) },
		func(c *chart.Chart) (*chart.Chart, error) { return joined(a, c, "stack", o.stack, c.Stack) },
		func(c *chart.Chart) (*chart.Chart, error) { return o.setInto(a, c) },
	} {
		var err error
		if c, err = step(c); err != nil {
			return nil, err
		}
	}
	return c, nil
}

func (o *turnOptions) cropped(c *chart.Chart) (*chart.Chart, error) {
	if o.rows == "" && o.columns == "" {
		return c, nil
	}
	firstRow, lastRow, err := rowRange("rows", o.rows, c.Height(), "row", "the chart has %ss 1 to %d")
	if err != nil {
		return nil, err
	}
	firstColumn, lastColumn, err := rowRange("columns", o.columns, c.Width(), "column", "the chart has %ss 1 to %d")
	if err != nil {
		return nil, err
	}
	cropped, err := c.Crop(firstRow, lastRow, firstColumn, lastColumn)
	return cropped, turnFault(err, "--rows 1:%d --columns 1:%d keeps all of it", c.Height(), c.Width())
}

func (o *turnOptions) swapped(c *chart.Chart) (*chart.Chart, error) {
	if o.swap == "" {
		return c, nil
	}
	a, width := utf8.DecodeRuneInString(o.swap)
	rest := o.swap[width:]
	if len(rest) < 2 || rest[0] != ':' || utf8.RuneCountInString(rest) != 2 {
		return nil, frame.Usage("--swap takes the symbols of two yarns with a colon between, not %q", o.swap).Hint("%s", symbolsOf(c))
	}
	b, _ := utf8.DecodeRuneInString(rest[1:])
	swapped, err := c.SwapYarns(a, b)
	return swapped, turnFault(err, "%s", symbolsOf(c))
}

// symbolsOf offers the yarns of a chart to swap.
func symbolsOf(c *chart.Chart) string {
	if len(c.Yarns) < 2 {
		return "a chart with two yarns"
	}
	return fmt.Sprintf("--swap %c:%c", c.Yarns[0].Symbol, c.Yarns[1].Symbol)
}

func (o *turnOptions) flipped(c *chart.Chart) (*chart.Chart, error) {
	if o.flip {
		c = c.Mirror()
	}
	if !o.upsideDown {
		return c, nil
	}
	down, err := c.UpsideDown()
	return down, turnFault(err, "--rows, to keep only rows without shaping")
}

func (o *turnOptions) repeated(c *chart.Chart) (*chart.Chart, error) {
	if o.repeat == "" {
		return c, nil
	}
	var across, up int
	var rest string
	n, _ := fmt.Sscanf(o.repeat, "%dx%d%s", &across, &up, &rest)
	if n != 2 || across < 1 || up < 1 {
		return nil, frame.Usage("--repeat takes how often across x how often up, not %q", o.repeat).Hint("--repeat 2x3")
	}
	repeated, err := c.Repeat(across, up)
	return repeated, turnFault(err, "at most %d columns and %d rows in all", chart.MaxColumns, chart.MaxRows)
}

func joined(a *frame.App, c *chart.Chart, flag, name string, join func(*chart.Chart) (*chart.Chart, error)) (*chart.Chart, error) {
	if name == "" {
		return c, nil
	}
	other, title, err := readChart(a, name)
	if err != nil {
		return nil, err
	}
	both, err := join(other)
	return both, turnFault(err, "--%s with another chart than %s", flag, title)
}

func (o *turnOptions) setInto(a *frame.App, c *chart.Chart) (*chart.Chart, error) {
	if (o.into == "") != (o.at == "") {
		return nil, frame.Usage("--into and --at go together: the ground, and where in it").Hint("--into GROUND.chart --at 1,1")
	}
	if o.into == "" {
		return c, nil
	}
	var column, row int
	var rest string
	if n, _ := fmt.Sscanf(o.at, "%d,%d%s", &column, &row, &rest); n != 2 {
		return nil, frame.Usage("--at takes a column and a row of the ground, not %q", o.at).Hint("--at 1,1")
	}
	return joined(a, c, "into", o.into, func(ground *chart.Chart) (*chart.Chart, error) { return c.Into(ground, column, row) })
}

// yarnsChanged maps and renames yarns, in the order given.
func (o *turnOptions) yarnsChanged(c *chart.Chart) (*chart.Chart, error) {
	for _, text := range o.yarns {
		from, what, err := yarnAndRest("yarn", "NAME", text, c.Yarns)
		if err != nil {
			return nil, err
		}
		if c, err = yarnChanged(c, from, what); err != nil {
			return nil, turnFault(err, "--yarn %c=NAME", from)
		}
	}
	return c, nil
}

// yarnChanged makes a yarn another of the chart, told by symbol or name, or gives it a symbol
// that is free, or a name and a color as they stand in a chart file.
func yarnChanged(c *chart.Chart, from rune, what string) (*chart.Chart, error) {
	y := c.Yarns[c.YarnIndex(from)]
	if to := chart.YarnNamed(c.Yarns, what); to != chart.NoYarn && c.Yarns[to].Symbol != from {
		return c.MapYarn(from, c.Yarns[to].Symbol)
	}
	if symbol, size := utf8.DecodeRuneInString(what); size == len(what) {
		y.Symbol = symbol
		return c.RedeclareYarn(from, y)
	}
	words := strings.Fields(what)
	if last := len(words) - 1; last >= 0 && strings.HasPrefix(words[last], "#") {
		color, err := chart.ParseColor(words[last])
		if err != nil {
			return nil, err
		}
		y.Color, words = color, words[:last]
	}
	if len(words) > 0 {
		y.Name = strings.Join(words, " ")
	}
	return c.RedeclareYarn(from, y)
}
