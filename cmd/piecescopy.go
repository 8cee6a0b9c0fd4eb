package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newCopy(a *frame.App) *cobra.Command {
	mirrored := false
	c := a.Leaf(frame.Spec{Use: "copy NAME", Writes: true, JSON: true},
		func(a *frame.App, args []string) error { return runCopy(a, args[0], mirrored) })
	c.Flags().BoolVar(&mirrored, "mirrored", false, "turn the charts left to right")
	return c
}

func runCopy(a *frame.App, name string, mirrored bool) error {
	first, err := stored.Take(a)
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
	p, err := stored.CastOn(a, &e, parts, alsoCopied(first))
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewCastOn(p.Piece, answer.CastOnOptions{LimitFrom: "as " + e.FirstName, FirstEver: p.FirstEver, SecondOf: e.FirstName}))
}

// copiedParts are the parts of a piece with their charts as the store has them, or
// mirrored.
func copiedParts(first *stored.Piece, mirrored bool) []stored.Part {
	charts := first.Layout.Charts
	parts := make([]stored.Part, len(first.State.Setup.Parts))
	for i, ref := range first.State.Setup.Parts {
		if mirrored {
			ref = ref.Turned(func(*session.PartRef) {})
		}
		parts[i] = copiedPart(ref, charts, mirrored)
		for _, b := range ref.Beside {
			parts[i].Beside = append(parts[i].Beside, copiedPart(b, charts, mirrored))
		}
	}
	return parts
}

// copiedPart is one block of a part.
func copiedPart(ref session.PartRef, charts map[[32]byte]*chart.Chart, mirrored bool) stored.Part {
	ref.Beside = nil
	part := stored.Part{Ref: ref}
	if c := charts[ref.Hash]; ref.HasChart() && c != nil {
		if part.Chart = c; mirrored {
			part.Chart, part.Bytes, part.Ref.Hash = stored.TurnedChart(c)
		}
	}
	return part
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
