package cmd

import "github.com/spf13/cobra"

// shellGroup holds what is about the program, not about knitting.
const shellGroup = "shell"

// groups lists all commands in the order in which help shows them. A new command
// is one line here.
var groups = []group{
	{"start", "Start", []func(*app) *cobra.Command{
		newCastOn,
		newPieces,
		newHold,
		newSettings,
		newTour,
	}},
	{"knit", "Knit", []func(*app) *cobra.Command{
		newShow,
		newKnit,
		newFollow,
		newPause,
		newResume,
		newLocate,
		newRip,
		newUndo,
		newRedo,
		newNote,
		newBindOff,
	}},
	{"look-back", "Look back", []func(*app) *cobra.Command{
		newReview,
		newCards,
		newHistory,
	}},
	{"prepare", "Prepare", []func(*app) *cobra.Command{
		newFloats,
		newChart,
		newReplan,
		newMotions,
		newSwatch,
		newYarn,
	}},
	{"keep", "Keep", []func(*app) *cobra.Command{
		newStore,
	}},
	{shellGroup, "The program itself", []func(*app) *cobra.Command{
		newCompletion,
	}},
}
