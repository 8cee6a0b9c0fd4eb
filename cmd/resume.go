package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

func newResume(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "resume", JSON: true}, runResume)
}

func runResume(a *frame.App, _ []string) error {
	p, err := stored.TakeUp(a)
	if err != nil {
		return err
	}
	return write(a, 2, answer.NewStanding(p.Standing(), a.Env.Now()))
}
