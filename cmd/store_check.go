package cmd

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/store"
)

func newStoreCheck(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "check",
		short: "read everything and say whether it is sound",
		long: "Reads every byte of the store that is in use, holds it against its checksums, and works every piece through again from its first event. It changes nothing.\n\n" +
			"It ends with 0 for a sound store and with 6, naming pieces and events, for a damaged one.",
		examples: []string{
			"strandwise store check",
			"strandwise store check --json",
		},
		json: true,
	}, func(ctx context.Context, _ []string) error { return runStoreCheck(a, ctx) })
}

// checkBody is the answer of `store check` in JSON, schema 1. It is the answer of a
// damaged store too, with sound false and status 6.
type checkBody struct {
	Path        string        `json:"path"`
	Sound       bool          `json:"sound"`
	StoreSchema int           `json:"store_schema"`
	Pieces      int           `json:"pieces"`
	Events      int           `json:"events"`
	Charts      int           `json:"charts"`
	Settings    int           `json:"settings"`
	Pages       int           `json:"pages"` // of 4096 bytes
	FreePages   int           `json:"free_pages"`
	Bytes       int64         `json:"bytes"`
	PageCheck   string        `json:"page_check"` // "sound", or why it was not made
	Problems    []findingBody `json:"problems"`
	Notes       []findingBody `json:"notes"`
	Warnings    []string      `json:"warnings"`
}

// findingBody is one finding in JSON; piece is "" and event 0 where it is about
// none.
type findingBody struct {
	Piece string `json:"piece"`
	Event uint64 `json:"event"`
	What  string `json:"what"`
}

// checked is all that a check found out.
type checked struct {
	store.Report
	problems, notes []finding
}

func runStoreCheck(a *app, ctx context.Context) error {
	s, err := a.checkedStore()
	if err != nil {
		return err
	}
	c, err := checkStore(ctx, s)
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.answerCheck(c)
	}
	a.warn(c.Warnings)
	if len(c.problems) > 0 {
		return damagedStore(c)
	}
	a.prose("%s is sound: %s in %s.", c.Path, contentWords(c.Contents), sized(c.Contents.Bytes))
	a.prose("Every checksum held, and every piece was worked through again from its first event.")
	if c.PageCheck != "sound" {
		a.prose("The examination of the file's pages was %s.", c.PageCheck)
	}
	for _, n := range c.notes {
		a.prose("Note: %s.", n)
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
	found, names, err := refold(ctx, s, damaged)
	if err != nil && len(report.Problems) == 0 {
		return c, err // with problems known already, a store past opening is no news
	}
	if len(c.Warnings) > 0 {
		_ = s.View(ctx, func(tx *store.Tx) error {
			c.Warnings = placed(tx, c.Warnings)
			return nil
		})
	}
	for _, p := range report.Problems {
		c.problems = append(c.problems, finding{piece: calledBy(names, p.Piece), seq: p.Seq, what: p.What})
	}
	for _, f := range found {
		if f.note {
			c.notes = append(c.notes, f)
		} else {
			c.problems = append(c.problems, f)
		}
	}
	return c, nil
}

func calledBy(names map[store.PieceID]string, id store.PieceID) string {
	switch name, known := names[id]; {
	case id == 0:
		return ""
	case known:
		return name
	}
	return fmt.Sprintf("piece %d", id)
}

// answerCheck answers in JSON, sound or not.
func (a *app) answerCheck(c checked) error {
	body := checkBody{
		Path: c.Path, Sound: len(c.problems) == 0,
		StoreSchema: c.Contents.Schema, Pieces: c.Contents.Pieces, Events: c.Contents.Events,
		Charts: c.Contents.Charts, Settings: c.Contents.Settings,
		Pages: c.Contents.Pages, FreePages: c.Contents.Free, Bytes: c.Contents.Bytes,
		PageCheck: c.PageCheck, Problems: bodiesOf(c.problems), Notes: bodiesOf(c.notes),
	}
	for _, w := range c.Warnings {
		body.Warnings = append(body.Warnings, w.Text)
	}
	if err := a.answerJSON(1, body); err != nil || body.Sound {
		return err
	}
	return answered{exitDamaged}
}

func bodiesOf(findings []finding) []findingBody {
	var bodies []findingBody
	for _, f := range findings {
		bodies = append(bodies, findingBody{f.piece, f.seq, f.what})
	}
	return bodies
}

// shownProblems is how many problems are told one by one.
const shownProblems = 10

func damagedStore(c checked) error {
	f := newFault(exitDamaged, "%s is damaged (%s):\n%s", []any{
		c.Path, counted(len(c.problems), "problem"), shownLines(c.problems),
	})
	if c.Original != "" {
		_ = f.because(&store.Error{Class: store.ClassDamaged, Original: c.Original})
	}
	return f.hint("strandwise store restore, which puts the newest backup in its place").
		hint("strandwise store salvage FILE, which gathers what is whole into a new file")
}

func shownLines(problems []finding) string {
	var lines []string
	for _, p := range problems[:min(len(problems), shownProblems)] {
		lines = append(lines, "  "+p.String())
	}
	if more := len(problems) - shownProblems; more > 0 {
		lines = append(lines, fmt.Sprintf("  and %d more", more))
	}
	return strings.Join(lines, "\n")
}
