package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newBindOff(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{
		Use:     "bind-off",
		Aliases: []string{"cast-off"},
		Writes:  true, JSON: true,
	}, runBindOff)
}

func runBindOff(a *frame.App, _ []string) error {
	p, err := stored.Change(a, func(*stored.Piece) ([]session.Event, error) {
		return []session.Event{&session.BoundOff{}}, nil
	})
	if err != nil {
		return err
	}
	return write(a, 2, answer.NewPlaced(p.Piece))
}
