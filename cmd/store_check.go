package cmd

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

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

// checkBody is the answer of `store check` in JSON, schema 1. It is the answer of a
// damaged store too, with sound false and status 6.
type checkBody struct {
	Path        string           `json:"path"`
	Sound       bool             `json:"sound"`
	StoreSchema int              `json:"store_schema"`
	Pieces      int              `json:"pieces"`
	Events      int              `json:"events"`
	Charts      int              `json:"charts"`
	Settings    int              `json:"settings"`
	Pages       int              `json:"pages"` // of 4096 bytes
	FreePages   int              `json:"free_pages"`
	Bytes       int64            `json:"bytes"`
	PageCheck   string           `json:"page_check"` // "sound", or why it was not made
	Problems    []stored.Finding `json:"problems"`
	Notes       []stored.Finding `json:"notes"`
	Warnings    []string         `json:"warnings"`
}

// checked is all that a check found out.
type checked struct {
	store.Report
	problems, notes []stored.Finding
}

func runStoreCheck(a *frame.App, ctx context.Context) error {
	s, err := stored.CheckedStore(a)
	if err != nil {
		return err
	}
	c, err := checkStore(ctx, s)
	if err != nil {
		return err
	}
	if a.Flags.JSON {
		return answerCheck(a, c)
	}
	a.Warn(c.Warnings)
	if len(c.problems) > 0 {
		return damagedStore(c)
	}
	a.Tell("%s is sound: %s in %s.", c.Path, contentWords(c.Contents), sized(c.Contents.Bytes))
	a.Tell("Every checksum held, and every piece was worked through again from its first event.")
	if c.PageCheck != "sound" {
		a.Tell("The examination of the file's pages was %s.", c.PageCheck)
	}
	for _, n := range c.notes {
		a.Tell("Note: %s.", n)
	}
	return nil
}

// checkStore has the store look at its bytes and then folds what it holds.
func checkStore(ctx context.Context, s *store.Store) (checked, error) {
	report, err := s.Check(ctx)
	c := checked{Report: report}
	if err != nil {
		return c, err
	}
	damaged := map[store.PieceID]bool{}
	for _, p := range report.Problems {
		damaged[p.Piece] = true
	}
	found, names, err := stored.Refold(ctx, s, damaged)
	if err != nil && len(report.Problems) == 0 {
		return c, err // with problems known already, a store past opening is no news
	}
	if len(c.Warnings) > 0 {
		_ = s.View(ctx, func(tx *store.Tx) error {
			c.Warnings = stored.Placed(tx, c.Warnings)
			return nil
		})
	}
	for _, p := range report.Problems {
		c.problems = append(c.problems, stored.Finding{Piece: calledBy(names, p.Piece), Seq: p.Seq, What: p.What})
	}
	for _, f := range found {
		if f.Note {
			c.notes = append(c.notes, f)
		} else {
			c.problems = append(c.problems, f)
		}
	}
	return c, nil
}

func calledBy(names map[store.PieceID]string, id store.PieceID) string {
	if id == 0 {
		return ""
	}
	return cmp.Or(names[id], fmt.Sprintf("piece %d", id))
}

// answerCheck answers in JSON, sound or not.
func answerCheck(a *frame.App, c checked) error {
	body := checkBody{
		Path: c.Path, Sound: len(c.problems) == 0,
		StoreSchema: c.Contents.Schema, Pieces: c.Contents.Pieces, Events: c.Contents.Events,
		Charts: c.Contents.Charts, Settings: c.Contents.Settings,
		Pages: c.Contents.Pages, FreePages: c.Contents.Free, Bytes: c.Contents.Bytes,
		PageCheck: c.PageCheck, Problems: c.problems, Notes: c.notes,
	}
	for _, w := range c.Warnings {
		body.Warnings = append(body.Warnings, w.Text)
	}
	if err := a.AnswerJSON(1, body); err != nil || body.Sound {
		return err
	}
	return frame.Answered{Exit: frame.ExitDamaged}
}

// shownProblems is how many problems are told one by one.
const shownProblems = 10

func damagedStore(c checked) error {
	f := frame.NewFault(frame.ExitDamaged, "%s is damaged (%s):\n%s", []any{
		c.Path, frame.Counted(len(c.problems), "problem"), shownLines(c.problems),
	})
	if c.Original != "" {
		_ = f.Because(&store.Error{Class: store.ClassDamaged, Original: c.Original})
	}
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
