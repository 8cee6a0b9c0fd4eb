package cmd

import (
	"context"
	"encoding/hex"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
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

// salvageBody is the answer of `store salvage` in JSON, schema 1. sure is false
// where the store could no longer tell which pieces it has: a removed one may be
// back.
type salvageBody struct {
	To       string        `json:"to"`
	Sources  []string      `json:"sources"` // files read, the store first
	Sure     bool          `json:"sure"`
	Charts   int           `json:"charts"`
	Settings int           `json:"settings"`
	Pieces   []rescuedBody `json:"pieces"`
}

// rescuedBody is one piece. Gaps are events that could not be recovered, from and to
// included; assumed of them are logged as rows knitted without the program.
// cut_after is the last event of the piece in the new file where later ones could
// not be joined to it, else 0; a piece with none left is not in the file.
type rescuedBody struct {
	Piece      string      `json:"piece"`
	Events     uint64      `json:"events"`
	FromBackup uint64      `json:"from_backup"`
	Gaps       []store.Gap `json:"gaps"`
	Assumed    int         `json:"assumed"`
	Cut        bool        `json:"cut"`
	CutAfter   uint64      `json:"cut_after"`
	// Waits are the charts that are lost; the piece is not in the file until they are given.
	Waits []waitBody `json:"waits"`
}

// waitBody is a lost chart: the name of its part, where it was read from, "" when nobody
// knows, and the SHA-256 of its bytes.
type waitBody struct {
	Part   string `json:"part"`
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
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
	files := chartFiles(ctx, s)
	if a.Flags.JSON {
		return a.AnswerJSON(1, salvageBodyOf(done, pieces, files))
	}
	tellSalvage(a, done, pieces, files)
	return nil
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

// chartFiles tells from which file the store read a chart, "" where it cannot tell.
func chartFiles(ctx context.Context, s *store.Store) func(hash [32]byte) string {
	return func(hash [32]byte) (file string) {
		_ = s.View(ctx, func(tx *store.Tx) error {
			path, _ := tx.Cache(stored.FileKey(hash))
			file = frame.PlainText(path)
			return nil
		})
		return file
	}
}

func salvageBodyOf(done store.Salvaged, pieces []stored.Rescued, file func([32]byte) string) salvageBody {
	body := salvageBody{To: done.To, Sources: done.Sources, Sure: done.Sure, Charts: done.Charts, Settings: done.Settings}
	for _, p := range pieces {
		one := rescuedBody{Piece: p.Name, Events: p.Events, FromBackup: p.FromBackup, Assumed: p.Assumed, Cut: p.Cut, CutAfter: p.Last, Gaps: p.Gaps}
		for _, part := range p.Waits {
			one.Waits = append(one.Waits, waitBody{part.Name, file(part.Hash), hex.EncodeToString(part.Hash[:])})
		}
		body.Pieces = append(body.Pieces, one)
	}
	return body
}

func tellSalvage(a *frame.App, done store.Salvaged, pieces []stored.Rescued, file func([32]byte) string) {
	a.Tell("Read %s; wrote %s.", frame.Counted(len(done.Sources), "file"), done.To)
	a.Tell("%s, %s and %s.", frame.Counted(taken(pieces), "piece"), frame.Counted(done.Charts, "chart"), frame.Counted(done.Settings, "setting"))
	for _, p := range pieces {
		tellRescued(a, p)
		for _, part := range p.Waits {
			a.Tell("%s.", waitWords(p.Name, part, file(part.Hash)))
		}
	}
	if slices.ContainsFunc(pieces, func(p stored.Rescued) bool { return len(p.Waits) > 0 }) {
		a.Say("", "next, with the chart at hand: strandwise store salvage ANOTHER-FILE --chart CHART-FILE")
		return
	}
	if !done.Sure {
		a.Tell("The store could no longer tell which pieces it has: one you removed may be back.")
	}
	a.Say("", "next: strandwise store restore "+done.To)
}

// taken counts the pieces that are in the new file.
func taken(pieces []stored.Rescued) int {
	n := 0
	for _, p := range pieces {
		if !p.Behind() {
			n++
		}
	}
	return n
}

// waitWords says which chart file a piece waits for.
func waitWords(name string, part session.PartRef, file string) string {
	if file == "" {
		file = "nobody can tell which file"
	}
	return fmt.Sprintf("%s stayed behind: the chart of its part %s is lost; it was read from %s, and its SHA-256 begins with %x", name, part.Name, file, part.Hash[:4])
}

func tellRescued(a *frame.App, p stored.Rescued) {
	line := fmt.Sprintf("%s: %s", p.Name, events(p.Events))
	if p.FromBackup > 0 {
		line += fmt.Sprintf(", %d of them from backups", p.FromBackup)
	}
	a.Tell("%s.", line)
	for _, g := range p.Gaps {
		a.Tell("%s: %s lost.", p.Name, stored.GapWords(g))
	}
	if p.Assumed > 0 {
		a.Tell("%s: %s logged as knitted without the program.", p.Name, frame.Counted(p.Assumed, "lost row"))
	}
	switch {
	case p.Cut && p.Last == 0:
		a.Tell("%s: its beginning is lost, so it could not be taken over; its events are still in the damaged file.", p.Name)
	case p.Cut:
		a.Tell("%s: what comes after event %d does not join on and stayed behind. It is now at row %d; strandwise knit --to N catches up.", p.Name, p.Last, p.Row+1)
	}
}
