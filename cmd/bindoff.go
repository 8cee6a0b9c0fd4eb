package cmd

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"strandwise/session"
)

func newBindOff(a *app) *cobra.Command {
	return a.leaf(spec{
		use:     "bind-off",
		aliases: []string{"cast-off"},
		short:   "log that the piece is off the needles",
		long:    "Logs that the piece is bound off. Rows may be left: a knitter may stop early, and the answer says how many were. Undo takes it back; rip takes the binding off out again.",
		british: "In the UK binding off is called casting off; cast-off does the same.",
		examples: []string{
			"strandwise bind-off",
			"strandwise undo && strandwise cast-off",
		},
		writes: true, json: true,
	}, func(ctx context.Context, _ []string) error { return runBindOff(ctx, a) })
}

func runBindOff(ctx context.Context, a *app) error {
	p, err := a.change(ctx, func(*storedPiece) ([]session.Event, error) {
		return []session.Event{&session.BoundOff{}}, nil
	})
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.answerJSON(1, placeBody(p))
	}
	a.say(fmt.Sprintf("%s is bound off after %s", p.State.Setup.Name, counted(p.State.Row, p.rowWord())), "")
	if left := p.Rows() - p.State.Row; left > 0 {
		a.tell("%s of the plan are left unworked; strandwise undo, if that was not meant", counted(left, p.rowWord()))
	}
	for _, text := range p.State.Setup.Item.Cautions() {
		a.tell("%s", text)
	}
	a.say("", "next: strandwise review")
	return nil
}
