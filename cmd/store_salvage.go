package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

func newStoreSalvage(a *frame.App) *cobra.Command {
	var charts []string
	c := a.Leaf(frame.Spec{Use: "salvage FILE", Writes: true, JSON: true},
		func(a *frame.App, args []string) error { return runStoreSalvage(a, args[0], charts) })
	c.Flags().StringArrayVar(&charts, "chart", nil, "take a lost chart from `FILE`; may be given several times")
	return c
}

func runStoreSalvage(a *frame.App, to string, charts []string) error {
	var given []stored.Part
	for _, word := range charts {
		part, err := stored.ReadChart(a, word)
		if err != nil {
			return err
		}
		given = append(given, part)
	}
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	var done store.Salvaged
	var pieces []stored.Rescued
	err = a.Commit(func() error {
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
