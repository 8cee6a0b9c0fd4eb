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
		Short:   "log that the piece is off the needles",
		Long:    "Logs that the piece is bound off. Rows may be left: a knitter may stop early, and the answer says how many were. Undo takes it back; rip takes the binding off out again.",
		British: "In the UK binding off is called casting off; cast-off does the same.",
		Examples: []string{
			"strandwise bind-off",
			"strandwise undo && strandwise cast-off",
		},
		Writes: true, JSON: true,
	}, func(a *frame.App, _ []string) error { return runBindOff(a) })
}

func runBindOff(a *frame.App) error {
	p, err := stored.Change(a, func(*stored.Piece) ([]session.Event, error) {
		return []session.Event{&session.BoundOff{}}, nil
	})
	if err != nil {
		return err
	}
	return write(a, 2, answer.NewPlaced(p.Piece))
}
