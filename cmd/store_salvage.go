package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/store"
)

func newStoreSalvage(a *frame.App) *cobra.Command {
	var charts []string
	c := a.Leaf(frame.Spec{Use: "salvage FILE", Least: 1, Most: 1, Writes: true, JSON: true},
		func(a *frame.App, args []string) error { return runStoreSalvage(a, args[0], charts) })
	c.Flags().StringArrayVar(&charts, "chart", nil, "take a lost chart from `FILE`; may be given several times")
	return c
}

func runStoreSalvage(a *frame.App, to string, charts []string) error {
	given, err := readCharts(a, charts)
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
		done, err = s.Salvage(a.Context(), to, func(whole *store.Parcel, found []store.SalvagedPiece) error {
			for _, text := range given {
				whole.AddChart(text)
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

// readCharts reads chart files as they are to be kept.
func readCharts(a *frame.App, names []string) ([][]byte, error) {
	var texts [][]byte
	for _, name := range names {
		text, title, err := a.ReadInput(name)
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
