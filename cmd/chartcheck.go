package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
)

func newChartCheck(a *frame.App) *cobra.Command {
	t := newTrial()
	c := a.Leaf(frame.Spec{Use: "check FILE", Least: 1, Most: 1, JSON: true}, t.runCheck)
	t.addFlags(c)
	return c
}

func (t *trial) runCheck(a *frame.App, args []string) error {
	l, err := t.read(a, args[0])
	if err != nil {
		return err
	}
	return write(a, 1, answer.NewCheck(l.chart, l.fabric, l.task, l.name(), l.from))
}
