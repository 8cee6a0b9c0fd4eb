package cmd

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

// turnOptions are the flags of chart turn, in the order in which they are applied.
type turnOptions struct {
	rows, columns string
	yarns         []string
	swap          string
	flip          bool
	upsideDown    bool
	repeat        twoCounts // zero where none is asked for
	beside        string
	stack         string
	into          string
	at            twoCounts
	title         string
	out           outFile
}

func newChartTurn(a *frame.App) *cobra.Command {
	o := &turnOptions{out: outFile{name: frame.FromStdin}}
	c := a.Leaf(frame.Spec{Use: "turn FILE"}, o.run)
	set := c.Flags()
	set.StringVar(&o.rows, "rows", "", "keep only these rows, both ends in, row 1 the lowest: `FIRST:LAST`")
	set.StringVar(&o.columns, "columns", "", "keep only these columns, both ends in, column 1 the rightmost: `FIRST:LAST`")
	set.StringArrayVar(&o.yarns, "yarn", nil, "change a yarn: `x=.` works its stitches in yarn . or, where . is free, makes that its symbol; x=NAME, x=#RRGGBB; may be given again")
	set.StringVar(&o.swap, "swap", "", "exchange two yarns, by symbol: `A:B`")
	set.BoolVar(&o.flip, "flip", false, "exchange left and right")
	set.BoolVar(&o.upsideDown, "upside-down", false, "turn by half a turn")
	set.Func("repeat", "repeat across and up: `AxB`", readInto(&o.repeat, pairOf("x", trialMost, "how often across x how often up", "--repeat 2x3")))
	set.StringVar(&o.beside, "beside", "", "set another chart at the left: `FILE`")
	set.StringVar(&o.stack, "stack", "", "set another chart above: `FILE`")
	set.StringVar(&o.into, "into", "", "set the chart into another, a plain ground; an empty cell leaves the ground as it is: `FILE`")
	set.Func("at", "the column and the row of the ground where column 1, row 1 comes to: `C,R`", readInto(&o.at, pairOf(",", trialMost, "a column and a row of the ground", "--at 1,1")))
	set.StringVar(&o.title, "title", "", "title of the new chart: `TEXT` (default: as it was)")
	o.out.add(set, "output", "o", "the chart file to write: `FILE`; - is standard output")
	return c
}

func (o *turnOptions) run(a *frame.App, args []string) error {
	c, _, err := readChart(a, args[0])
	if err != nil {
		return err
	}
	if (o.into == "") != (o.at == twoCounts{}) {
		return frame.Usage("--into and --at go together: the ground, and where in it").Hint("--into GROUND.chart --at 1,1")
	}
	for _, step := range o.steps(a, c) {
		if step.asked {
			if c, err = step.turn(c); err != nil {
				return turnFault(err, step.hint)
			}
		}
	}
	if o.title != "" {
		c.Title = o.title
	}
	if err := c.Validate(); err != nil {
		return frame.Usage("the new chart cannot be written: %v", err).Because(err)
	}
	return writeChart(a, &o.out, c)
}

type turnStep struct {
	asked bool
	turn  func(*chart.Chart) (*chart.Chart, error)
	hint  string // where the error tells none; "" where turn has told it
}

func (o *turnOptions) steps(a *frame.App, c *chart.Chart) []turnStep {
	joined := func(flag, name string, join func(c, other *chart.Chart) (*chart.Chart, error)) turnStep {
		return turnStep{name != "", func(c *chart.Chart) (*chart.Chart, error) {
			other, title, err := readChart(a, name)
			if err != nil {
				return nil, err
			}
			both, err := join(c, other)
			return both, turnFault(err, fmt.Sprintf("--%s with another chart than %s", flag, title))
		}, ""}
	}
	return []turnStep{
		{o.rows != "" || o.columns != "", o.cropped, fmt.Sprintf("--rows 1:%d --columns 1:%d keeps all of it", c.Height(), c.Width())},
		{len(o.yarns) > 0, o.yarnsChanged, ""},
		{o.swap != "", o.swapped, ""},
		{o.flip, func(c *chart.Chart) (*chart.Chart, error) { return c.Mirror(), nil }, ""},
		{o.upsideDown, (*chart.Chart).UpsideDown, "--rows, to keep only rows without shaping"},
		{o.repeat != twoCounts{}, o.repeated, tooLarge},
		joined("beside", o.beside, (*chart.Chart).Beside),
		joined("stack", o.stack, (*chart.Chart).Stack),
		joined("into", o.into, func(c, ground *chart.Chart) (*chart.Chart, error) { return c.Into(ground, o.at.across, o.at.up) }),
	}
}

func (o *turnOptions) repeated(c *chart.Chart) (*chart.Chart, error) {
	return c.Repeat(o.repeat.across, o.repeat.up)
}

func (o *turnOptions) cropped(c *chart.Chart) (*chart.Chart, error) {
	firstRow, lastRow, err := rowRange("rows", o.rows, c.Height(), "row", "the chart has %ss 1 to %d")
	if err != nil {
		return nil, err
	}
	firstColumn, lastColumn, err := rowRange("columns", o.columns, c.Width(), "column", "the chart has %ss 1 to %d")
	if err != nil {
		return nil, err
	}
	return c.Crop(firstRow, lastRow, firstColumn, lastColumn)
}

func (o *turnOptions) swapped(c *chart.Chart) (*chart.Chart, error) {
	like := "a chart with two yarns"
	if len(c.Yarns) > 1 {
		like = fmt.Sprintf("--swap %c:%c", c.Yarns[0].Symbol, c.Yarns[1].Symbol)
	}
	symbols := []rune(o.swap)
	if len(symbols) != 3 || symbols[1] != ':' {
		return nil, frame.Usage("--swap takes the symbols of two yarns with a colon between, not %q", o.swap).Hint("%s", like)
	}
	swapped, err := c.SwapYarns(symbols[0], symbols[2])
	return swapped, turnFault(err, like)
}

func (o *turnOptions) yarnsChanged(c *chart.Chart) (*chart.Chart, error) {
	for _, text := range o.yarns {
		from, what, err := yarnAndRest("yarn", "NAME", text, c.Yarns)
		if err != nil {
			return nil, err
		}
		if c, err = yarnChanged(c, from, what); err != nil {
			return nil, turnFault(err, fmt.Sprintf("--yarn %c=NAME", from))
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

// readChart reads FILE, - or an example; FILE@AxB is that chart, A times across and B times up.
func readChart(a *frame.App, word string) (*chart.Chart, string, error) {
	p, err := stored.ReadChart(a, word)
	if err == nil && p.Ref.Repeats*p.Ref.Times > 1 {
		p.Chart, err = p.Chart.Repeat(p.Ref.Repeats, p.Ref.Times)
		err = turnFault(err, tooLarge)
	}
	return p.Chart, p.Title, err
}

func writeChart(a *frame.App, out *outFile, c *chart.Chart) error {
	said := fmt.Sprintf("wrote %s: %s by %s", out, document.Counted(c.Width(), "column"), document.Counted(c.Height(), "row"))
	return out.write(a, said, "strandwise chart check "+out.name, func(w io.Writer) error {
		_, err := io.WriteString(w, c.String())
		return err
	})
}

var tooLarge = fmt.Sprintf("at most %d columns and %d rows in all", chart.MaxColumns, chart.MaxRows)

// turnFault says what to do by what stands behind the semicolon of an error, else by the hint. A fault, and
// where there is no hint any error, passes as it is.
func turnFault(err error, hint string) error {
	if _, told := errors.AsType[*frame.Fault](err); err == nil || told || hint == "" {
		return err
	}
	what, advice, _ := strings.Cut(err.Error(), "; ")
	return frame.Usage("%s", what).Because(err).Hint("%s", cmp.Or(advice, hint))
}
