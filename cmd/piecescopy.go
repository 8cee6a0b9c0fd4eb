package cmd

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"strandwise/session"
)

func newCopy(a *app) *cobra.Command {
	mirrored := false
	c := a.leaf(spec{
		use:   "copy NAME",
		short: "begin the second of a pair",
		long: "Begins the second of a pair from the piece the commands are about: the same charts, limit, hold and dominance, its open notes, and its catches to follow, also where they were made otherwise than planned and hold the strands as well.\n\n" +
			"With --mirrored the charts are turned left to right, for a left and a right.",
		examples: []string{
			"strandwise pieces copy second-hat",
			"strandwise pieces copy left-hat --mirrored",
		},
		least: 1, most: 1, writes: true, json: true,
	}, func(ctx context.Context, args []string) error { return runCopy(ctx, a, args[0], mirrored) })
	c.Flags().BoolVar(&mirrored, "mirrored", false, "turn the charts left to right")
	return c
}

func runCopy(ctx context.Context, a *app, name string, mirrored bool) error {
	first, err := a.take(ctx)
	if err != nil {
		return err
	}
	parts := copiedParts(first, mirrored)
	e := first.State.Setup
	e.Name, e.Parts = name, refs(parts)
	e.CopyOf, e.Mirrored, e.FirstName = uint64(first.id), mirrored, first.State.Setup.Name
	if err := (&session.State{}).Check(&e); err != nil {
		return err
	}
	p, err := a.castOnWith(ctx, &e, parts, alsoCopied(first))
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.answerJSON(1, castOnBody(p, "as "+e.FirstName))
	}
	how := "with the same charts"
	if mirrored {
		how = "with its charts turned left to right"
	}
	a.say(fmt.Sprintf("%s is cast on as the second of %s, %s: %s of %s", name, e.FirstName, how, counted(p.Rows(), p.rowWord()), stitchRange(p.Layout.Fabric)), "")
	if !a.display.quiet {
		a.tellPlan(p)
	}
	for _, text := range e.Item.Cautions() {
		a.tell("%s", text)
	}
	a.say("", "next: strandwise show")
	return nil
}

// copiedParts are the parts of a piece with their charts as the store has them, or
// mirrored.
func copiedParts(first *storedPiece, mirrored bool) []partRead {
	charts := first.charts()
	parts := make([]partRead, len(first.State.Setup.Parts))
	for i, ref := range first.State.Setup.Parts {
		parts[i].ref = ref
		c := charts[ref.Hash]
		if ref.IsPlain() || c == nil {
			continue
		}
		parts[i].chart = c
		if mirrored {
			parts[i].chart, parts[i].bytes, parts[i].ref.Hash = turnedChart(c)
		}
	}
	return parts
}

func alsoCopied(first *storedPiece) []session.Event {
	var notes []session.Event
	if lower := first.State.Setup.Lower; lower != "" {
		notes = append(notes, &session.LowerSet{Place: lower})
	}
	for _, n := range first.State.OpenNotes() {
		notes = append(notes, &session.Noted{Text: n.Text, Row: n.Row})
	}
	return notes
}
