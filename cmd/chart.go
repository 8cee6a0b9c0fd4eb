package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
)

func newChart(a *frame.App) *cobra.Command {
	return a.Parent(frame.Spec{
		Use:   "chart",
		Short: "check, draw, turn and import charts",
		Long:  "Works on chart files, before or apart from any piece: checks one, draws it with the true shape of its stitches, turns it into another, or makes one from a picture or a table.",
		Examples: []string{
			"strandwise chart check example:lantern-band",
			"strandwise chart draw example:lantern-band",
		},
	}, newChartCheck(a), newChartDraw(a), newChartTurn(a), newChartImport(a))
}

// chartEnding is the ending of chart files.
const chartEnding = ".chart"
