package cmd

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

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
	}, func(ctx context.Context, _ []string) error { return runBindOff(ctx, a) })
}

func runBindOff(ctx context.Context, a *frame.App) error {
	p, err := stored.Change(a, ctx, func(*stored.Piece) ([]session.Event, error) {
		return []session.Event{&session.BoundOff{}}, nil
	})
	if err != nil {
		return err
	}
	if a.Flags.JSON {
		return a.AnswerJSON(2, placeBody(p))
	}
	a.Say(fmt.Sprintf("%s is bound off after %s", p.State.Setup.Name, frame.Counted(p.State.Row, p.RowWord())), "")
	if left := p.Rows() - p.State.Row; left > 0 {
		a.Tell("%s not knitted; strandwise undo, if that was not meant", frame.Counted(left, p.RowWord()))
	}
	for _, text := range p.State.Setup.Item.Cautions() {
		a.Tell("%s", text)
	}
	a.Say("", "next: strandwise review")
	return nil
}
