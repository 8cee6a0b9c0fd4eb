package cmd

import (
	"context"
	"slices"
	"strings"

	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// completers finds the values of flags by name, where they are not a few fixed
// words.
var completers = map[string]frame.Completer{
	"piece":    completePieces,
	"dominant": completeDominant,
}

// completePieces lists the names of all pieces, the oldest first.
func completePieces(a *frame.App, ctx context.Context, _ []string) []string {
	var names []string
	a.Glance(ctx, func(tx *store.Tx) error {
		pieces, err := stored.List(tx)
		for _, p := range pieces {
			names = append(names, p.Name)
		}
		return err
	})
	return names
}

// completeYarns lists the names of the yarns: those of the charts among the
// arguments, else those of the current piece.
func completeYarns(a *frame.App, ctx context.Context, args []string) []string {
	var names []string
	for _, word := range args {
		if part, err := stored.ReadPart(a, ctx, word); err == nil && part.Chart != nil {
			for _, y := range part.Chart.Yarns {
				names = append(names, y.Name)
			}
		}
	}
	if names == nil {
		names = yarnsOfPiece(a, ctx)
	}
	return distinct(names)
}

func yarnsOfPiece(a *frame.App, ctx context.Context) []string {
	name, err := stored.CurrentPiece(a)
	if err != nil {
		return nil
	}
	var names []string
	a.Glance(ctx, func(tx *store.Tx) error {
		p, err := stored.Open(tx, name)
		if err != nil {
			return err
		}
		for _, y := range p.Layout.Fabric.Yarns {
			names = append(names, y.Name)
		}
		return nil
	})
	return names
}

// completeDominant lists what --dominant takes.
func completeDominant(a *frame.App, ctx context.Context, args []string) []string {
	return append([]string{session.DominantPattern, session.DominantBackground}, completeYarns(a, ctx, args)...)
}

// distinct drops what stood in the list before, and what is empty.
func distinct(names []string) []string {
	var kept []string
	for _, name := range names {
		if strings.TrimSpace(name) != "" && !slices.Contains(kept, name) {
			kept = append(kept, name)
		}
	}
	return kept
}
