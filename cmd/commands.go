package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
)

// shellGroup holds what is about the program, not about knitting.
const shellGroup = "shell"

var groups = []frame.Group{
	{ID: "start", Title: "Start", Commands: []func(*frame.App) *cobra.Command{
		newCastOn,
		newPieces,
		newHold,
		newSettings,
		newTour,
	}},
	{ID: "knit", Title: "Knit", Commands: []func(*frame.App) *cobra.Command{
		newShow,
		newKnit,
		newFollow,
		newPause,
		newCorrect,
		newResume,
		newLocate,
		newRip,
		newUndo,
		newRedo,
		newNote,
		newBindOff,
	}},
	{ID: "look-back", Title: "Look back", Commands: []func(*frame.App) *cobra.Command{
		newReview,
		newCards,
		newHistory,
	}},
	{ID: "prepare", Title: "Prepare", Commands: []func(*frame.App) *cobra.Command{
		newFloats,
		newChart,
		newReplan,
		newMotions,
		newSwatch,
		newYarn,
	}},
	{ID: "keep", Title: "Keep", Commands: []func(*frame.App) *cobra.Command{
		newStore,
	}},
	{ID: shellGroup, Title: "The program itself", Commands: []func(*frame.App) *cobra.Command{
		newCompletion,
	}},
}

func withTaken[T any](take func(*frame.App) (T, error), run func(*frame.App, T, []string) error) func(*frame.App, []string) error {
	return func(a *frame.App, args []string) error {
		taken, err := take(a)
		if err != nil {
			return err
		}
		return run(a, taken, args)
	}
}

func newChart(a *frame.App) *cobra.Command {
	return a.Parent(frame.Spec{Use: "chart"}, newChartCheck(a), newChartDraw(a), newChartTurn(a), newChartImport(a))
}
