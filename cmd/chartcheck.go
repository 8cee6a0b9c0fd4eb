package cmd

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

func newChartCheck(a *frame.App) *cobra.Command {
	t := newTrial()
	c := a.Leaf(frame.Spec{Use: "check FILE", JSON: true}, t.runCheck)
	t.addFlags(c)
	return c
}

func (t *trial) runCheck(a *frame.App, args []string) error {
	l, err := t.read(a, args[0])
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewCheck(l.chart, l.fabric, l.task, t.Name, l.from))
}

// readChart reads a chart file, standard input for "-" or an example; FILE@AxB is that
// chart, A times across and B times up.
func readChart(a *frame.App, word string) (*chart.Chart, string, error) {
	p, err := stored.ReadChart(a, word)
	if err == nil && p.Ref.Repeats*p.Ref.Times > 1 {
		p.Chart, err = p.Chart.Repeat(p.Ref.Repeats, p.Ref.Times)
		err = turnFault(err, "at most %d columns and %d rows in all", chart.MaxColumns, chart.MaxRows)
	}
	return p.Chart, p.Title, err
}

// writeChart writes a chart file and says so, but for standard output.
func writeChart(a *frame.App, out string, force bool, c *chart.Chart) error {
	err := a.WriteOutput(out, force, func(w io.Writer) error {
		_, err := io.WriteString(w, c.String())
		return err
	})
	if err == nil && out != frame.FromStdin {
		a.Say(fmt.Sprintf("wrote %s: %s by %s", out, document.Counted(c.Width(), "column"), document.Counted(c.Height(), "row")),
			"strandwise chart check "+out)
	}
	return err
}

// turnFault is an error of a chart that cannot be turned so. What to do is what the
// error says behind its semicolon, else the hint.
func turnFault(err error, hint string, args ...any) error {
	if err == nil {
		return nil
	}
	what, advice, said := strings.Cut(err.Error(), "; ")
	if !said {
		advice = fmt.Sprintf(hint, args...)
	}
	return frame.Usage("%s", what).Because(err).Hint("%s", advice)
}
