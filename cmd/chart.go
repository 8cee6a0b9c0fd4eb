package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
)

func newChart(a *frame.App) *cobra.Command {
	return a.Parent(frame.Spec{Use: "chart"}, newChartCheck(a), newChartDraw(a), newChartTurn(a), newChartImport(a))
}

// chartEnding is the ending of chart files.
const chartEnding = ".chart"
