package cmd

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

func runStoreCheck(a *frame.App, s *store.Store, _ []string) error {
	found, err := stored.Check(a, s)
	if err != nil {
		return err
	}
	c := &answer.StoreCheck{
		Path: s.Path(), Sound: len(found.Problems) == 0, Problems: found.Problems, Notes: found.Notes, Contents: found.Contents,
		Warnings: listOf(found.Warnings, func(w store.Warning) string { return w.Text }),
	}
	if !a.Flags.JSON {
		a.Warn(found.Warnings)
		if !c.Sound {
			return damagedStore(c)
		}
	}
	if !c.Sound {
		a.Told = frame.ExitDamaged
	}
	return a.Answer(1, c)
}

const shownProblems = 10

func damagedStore(c *answer.StoreCheck) error {
	problems := document.Counted(len(c.Problems), "problem")
	return frame.NewFault(frame.ExitDamaged, "%s is damaged (%s):\n%s", c.Path, problems, shownLines(c.Problems)).
		Hint("strandwise store restore, which puts the newest backup in its place").
		Hint("strandwise store salvage FILE, which gathers what is whole into a new file")
}

func shownLines(problems []stored.Finding) string {
	lines := listOf(problems[:min(len(problems), shownProblems)], func(p stored.Finding) string { return "  " + p.String() })
	if more := len(problems) - shownProblems; more > 0 {
		lines = append(lines, fmt.Sprintf("  and %d more", more))
	}
	return strings.Join(lines, "\n")
}

func newStoreSalvage(a *frame.App) *cobra.Command {
	var charts []string
	c := a.Leaf(frame.Spec{Use: "salvage FILE", Writes: true, JSON: true},
		withTaken(stored.Store, func(a *frame.App, s *store.Store, args []string) error { return runStoreSalvage(a, s, args[0], charts) }))
	c.Flags().StringArrayVar(&charts, "chart", nil, "take a lost chart from `FILE`; may be given several times")
	return c
}

func runStoreSalvage(a *frame.App, s *store.Store, to string, charts []string) error {
	var given []stored.Part
	for _, word := range charts {
		part, err := stored.ReadChart(a, word)
		if err != nil {
			return err
		}
		given = append(given, part)
	}
	var done store.Salvaged
	var pieces []stored.Rescued
	err := a.Commit(func() (err error) {
		done, err = s.Salvage(a.Context(), to, func(whole *store.Parcel, found []store.SalvagedPiece) error {
			for _, part := range given {
				whole.AddChart(part.Bytes)
			}
			pieces, err = stored.Rejoin(whole, found)
			return err
		})
		return err
	})
	if err != nil {
		return err
	}
	findCharts(a, s, pieces)
	return a.Answer(1, &answer.Salvaged{To: to, Sources: done.Sources, Sure: done.Sure, Charts: done.Charts, Settings: done.Settings, Pieces: pieces})
}

// findCharts tells from which files the store read the charts that are lost, as far as it can.
func findCharts(a *frame.App, s *store.Store, pieces []stored.Rescued) {
	_ = s.View(a.Context(), func(tx *store.Tx) error {
		for _, p := range pieces {
			for i := range p.Waits {
				path, _ := tx.Cache(stored.FileKey(p.Waits[i].Hash))
				p.Waits[i].File = frame.PlainText(path)
			}
		}
		return nil
	})
}
