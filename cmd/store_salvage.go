package cmd

import (
	"context"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

func newStoreSalvage(a *frame.App) *cobra.Command {
	var charts []string
	c := a.Leaf(frame.Spec{
		Use:   "salvage FILE",
		Short: "gather what is whole of a damaged store into a new file",
		Long: "Reads a damaged store and all its backups, and writes every event whose checksum holds into a new store, FILE, which must not be there yet. The damaged store is left as it is.\n\n" +
			"It says which events are lost. Where rows are among them and later rows are not, the lost ones are logged as knitted without the program.\n\n" +
			"A piece whose chart is lost stays behind, and is named with its chart: --chart FILE gives the chart, in the file it was cast on from.",
		Examples: []string{
			"strandwise store salvage rescued.store",
			"strandwise store salvage rescued-again.store --json",
		},
		Least: 1, Most: 1, Writes: true, JSON: true,
	}, func(ctx context.Context, args []string) error { return runStoreSalvage(a, ctx, args[0], charts) })
	c.Flags().StringArrayVar(&charts, "chart", nil, "take a lost chart from `FILE`; may be given several times")
	return c
}

func runStoreSalvage(a *frame.App, ctx context.Context, to string, charts []string) error {
	given, err := readCharts(a, ctx, charts)
	if err != nil {
		return err
	}
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	var done store.Salvaged
	var pieces []stored.Rescued
	err = a.Commit(func() error {
		done, err = s.Salvage(ctx, to, func(tx *store.Tx, found store.Salvaged) error {
			for _, text := range given {
				if _, err := tx.PutChart(text); err != nil {
					return err
				}
			}
			pieces, err = stored.Rejoin(tx, found)
			return err
		})
		return err
	})
	if err != nil {
		return err
	}
	findCharts(ctx, s, pieces)
	return write(a, 1, &answer.Salvaged{To: to, Sources: done.Sources, Sure: done.Sure, Charts: done.Charts, Settings: done.Settings, Pieces: pieces})
}

// readCharts reads chart files as they are to be kept.
func readCharts(a *frame.App, ctx context.Context, names []string) ([][]byte, error) {
	var texts [][]byte
	for _, name := range names {
		text, title, err := a.ReadInput(ctx, name)
		if err != nil {
			return nil, err
		}
		if _, err := chart.Parse(title, text); err != nil {
			return nil, err
		}
		texts = append(texts, text)
	}
	return texts, nil
}

// findCharts tells from which files the store read the charts that are lost, as far as it can.
func findCharts(ctx context.Context, s *store.Store, pieces []stored.Rescued) {
	_ = s.View(ctx, func(tx *store.Tx) error {
		for _, p := range pieces {
			for i := range p.Waits {
				path, _ := tx.Cache(stored.FileKey(p.Waits[i].Hash))
				p.Waits[i].File = frame.PlainText(path)
			}
		}
		return nil
	})
}
