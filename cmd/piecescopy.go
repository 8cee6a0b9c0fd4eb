package cmd

import (
	"context"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newCopy(a *frame.App) *cobra.Command {
	mirrored := false
	c := a.Leaf(frame.Spec{
		Use:   "copy NAME",
		Short: "begin the second of a pair",
		Long: "Begins the second of a pair from the current piece: the same charts, limit, hold and dominance, its open notes, and its catches to follow, also where they were made with changes and hold the strands as well.\n\n" +
			"With --mirrored the charts are turned left to right, for a left and a right.",
		Examples: []string{
			"strandwise pieces copy second-hat",
			"strandwise pieces copy left-hat --mirrored",
		},
		Least: 1, Most: 1, Writes: true, JSON: true,
	}, func(ctx context.Context, args []string) error { return runCopy(ctx, a, args[0], mirrored) })
	c.Flags().BoolVar(&mirrored, "mirrored", false, "turn the charts left to right")
	return c
}

func runCopy(ctx context.Context, a *frame.App, name string, mirrored bool) error {
	first, err := stored.Take(a, ctx)
	if err != nil {
		return err
	}
	parts := copiedParts(first, mirrored)
	e := first.State.Setup
	e.Name, e.Parts = name, stored.Refs(parts)
	e.CopyOf, e.Mirrored, e.FirstName = uint64(first.ID), mirrored, first.State.Setup.Name
	if err := (&session.State{}).Check(&e); err != nil {
		return err
	}
	p, err := stored.CastOn(a, ctx, &e, parts, alsoCopied(first))
	if err != nil {
		return err
	}
	return write(a, 1, answer.NewCastOn(p.Piece, answer.CastOnOptions{LimitFrom: "as " + e.FirstName, FirstEver: p.FirstEver, SecondOf: e.FirstName}))
}

// copiedParts are the parts of a piece with their charts as the store has them, or
// mirrored.
func copiedParts(first *stored.Piece, mirrored bool) []stored.Part {
	charts := first.Charts()
	parts := make([]stored.Part, len(first.State.Setup.Parts))
	for i, ref := range first.State.Setup.Parts {
		parts[i].Ref = ref
		c := charts[ref.Hash]
		if ref.IsPlain() || c == nil {
			continue
		}
		parts[i].Chart = c
		if mirrored {
			parts[i].Chart, parts[i].Bytes, parts[i].Ref.Hash = stored.TurnedChart(c)
		}
	}
	return parts
}

func alsoCopied(first *stored.Piece) []session.Event {
	var notes []session.Event
	if lower := first.State.Setup.Lower; lower != "" {
		notes = append(notes, &session.LowerSet{Place: lower})
	}
	for _, n := range first.State.OpenNotes() {
		notes = append(notes, &session.Noted{Text: n.Text, Row: n.Row})
	}
	return notes
}
