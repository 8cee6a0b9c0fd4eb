package cmd

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

func newStoreCheck(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{
		Use:   "check",
		Short: "read everything and say whether it is sound",
		Long: "Reads every byte of the store that is in use, holds it against its checksums, and works every piece through again from its first event. It changes nothing.\n\n" +
			"It ends with 0 for a sound store and with 6, naming pieces and events, for a damaged one.",
		Examples: []string{
			"strandwise store check",
			"strandwise store check --json",
		},
		JSON: true,
	}, func(ctx context.Context, _ []string) error { return runStoreCheck(a, ctx) })
}

func runStoreCheck(a *frame.App, ctx context.Context) error {
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	c, report, err := checkStore(ctx, s)
	if err != nil {
		return err
	}
	if !a.Flags.JSON {
		a.Warn(report.Warnings)
		if !c.Sound {
			return damagedStore(c)
		}
	}
	if err := write(a, 1, c); err != nil || c.Sound {
		return err
	}
	return frame.Answered{Exit: frame.ExitDamaged}
}

// checkStore has the store look at its bytes and then folds what it holds.
func checkStore(ctx context.Context, s *store.Store) (c *answer.StoreCheck, report store.Report, err error) {
	if report, err = s.Check(ctx); err != nil {
		return nil, report, err
	}
	damaged := map[store.PieceID]bool{}
	for _, p := range report.Problems {
		damaged[p.Piece] = true
	}
	found, names, err := stored.Refold(ctx, s, damaged)
	if err != nil && len(report.Problems) == 0 {
		return nil, report, err // with problems known already, a store past opening is no news
	}
	if len(report.Warnings) > 0 {
		_ = s.View(ctx, func(tx *store.Tx) error {
			report.Warnings = stored.Placed(tx, report.Warnings)
			return nil
		})
	}
	c = &answer.StoreCheck{Path: s.Path(), Contents: report.Contents}
	for _, w := range report.Warnings {
		c.Warnings = append(c.Warnings, w.Text)
	}
	for _, p := range report.Problems {
		c.Problems = append(c.Problems, stored.Finding{Piece: calledBy(names, p.Piece), Seq: p.Seq, What: p.What})
	}
	for _, f := range found {
		if f.Note {
			c.Notes = append(c.Notes, f)
		} else {
			c.Problems = append(c.Problems, f)
		}
	}
	c.Sound = len(c.Problems) == 0
	return c, report, nil
}

func calledBy(names map[store.PieceID]string, id store.PieceID) string {
	if id == 0 {
		return ""
	}
	return cmp.Or(names[id], fmt.Sprintf("piece %d", id))
}

// shownProblems is how many problems are told one by one.
const shownProblems = 10

func damagedStore(c *answer.StoreCheck) error {
	f := frame.NewFault(frame.ExitDamaged, "%s is damaged (%s):\n%s", []any{
		c.Path, document.Counted(len(c.Problems), "problem"), shownLines(c.Problems),
	})
	return f.Hint("strandwise store restore, which puts the newest backup in its place").
		Hint("strandwise store salvage FILE, which gathers what is whole into a new file")
}

func shownLines(problems []stored.Finding) string {
	var lines []string
	for _, p := range problems[:min(len(problems), shownProblems)] {
		lines = append(lines, "  "+p.String())
	}
	if more := len(problems) - shownProblems; more > 0 {
		lines = append(lines, fmt.Sprintf("  and %d more", more))
	}
	return strings.Join(lines, "\n")
}
