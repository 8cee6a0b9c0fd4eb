package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

func newResume(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{
		Use:   "resume",
		Short: "where was I: everything after a break",
		Long:  "Tells on one screen where a piece stands, to take it up again after a break: the row and how far it is worked, the last row as it should be on the needles, where the yarns sit and how to check which is dominant, open notes, missed catches, yarns at rest, turns to take out, the row that comes next, and the time so far and to come.",
		Examples: []string{
			"strandwise resume",
			"strandwise resume --json",
		},
		JSON: true,
	}, func(a *frame.App, _ []string) error { return runResume(a) })
}

func runResume(a *frame.App) error {
	p, err := stored.TakeUp(a)
	if err != nil {
		return err
	}
	return write(a, 2, answer.NewStanding(p.Standing(), a.Env.Now()))
}
