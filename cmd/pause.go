package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newPause(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "pause STITCH", Least: 1, Most: 1, Writes: true, JSON: true}, runPause)
}

func runPause(a *frame.App, args []string) error {
	p, err := stored.Change(a, func(p *stored.Piece) ([]session.Event, error) {
		if err := p.State.Check(&session.Paused{}); err != nil {
			return nil, err
		}
		stitch, err := p.ParsePlace(args[0])
		if err != nil {
			return nil, err
		}
		return []session.Event{p.Pause(stitch)}, nil
	})
	if err != nil {
		return err
	}
	return write(a, 2, answer.NewPlaced(p.Piece))
}
