package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
)

func newChartCheck(a *frame.App) *cobra.Command {
	t := newTrial()
	c := a.Leaf(frame.Spec{
		Use:   "check FILE",
		Short: "tell all there is to know of a chart before casting on",
		Long: "Checks a chart file and tells what to know before casting on: its size, stitches and rows of each yarn, runs, floats against the limit, rows of three yarns, rows that begin alike, sums of shaping, and yarns too alike in color or in lightness.\n\n" +
			"A file with faults is told fault by fault, each with its line and column. FILE may be - for standard input.",
		Examples: []string{
			"strandwise chart check example:tide-yoke --repeats 20 --gauge 24x28/4in",
			"strandwise chart check example:pier-panel --flat --json",
		},
		Least: 1, Most: 1, JSON: true,
	}, func(a *frame.App, args []string) error { return runChartCheck(a, t, args[0]) })
	t.addFlags(c)
	return c
}

func runChartCheck(a *frame.App, t *trial, name string) error {
	l, err := t.read(a, name)
	if err != nil {
		return err
	}
	return write(a, 1, answer.NewCheck(l.chart, l.fabric, l.task, l.name(), l.from))
}
