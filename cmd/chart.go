package cmd

import "github.com/spf13/cobra"

func newChart(a *app) *cobra.Command {
	return a.parent(spec{
		use:   "chart",
		short: "check, draw, turn and import charts",
		long:  "Works on chart files, before or apart from any piece: checks one, draws it with the true shape of its stitches, turns it into another, or makes one from a picture or a table.",
		examples: []string{
			"strandwise chart check examples/lantern-band.chart",
			"strandwise chart draw examples/lantern-band.chart",
		},
	}, newChartCheck(a), newChartDraw(a), newChartTurn(a), newChartImport(a))
}

// chartEnding is the ending of chart files.
const chartEnding = ".chart"
