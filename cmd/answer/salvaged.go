package answer

import (
	"cmp"
	"fmt"

	"strandwise/cmd/stored"

	d "strandwise/cmd/document"
)

// Salvaged is the answer of store salvage, schema 1. sure is false
// where the store could no longer tell which pieces it has: a removed one may be
// back.
type Salvaged struct {
	To       string           `json:"to"`
	Sources  []string         `json:"sources"` // files read, the store first
	Sure     bool             `json:"sure"`
	Charts   int              `json:"charts"`
	Settings int              `json:"settings"`
	Pieces   []stored.Rescued `json:"pieces"`
}

// Document tells what is in the new file and what is not.
func (a *Salvaged) Document() d.Document {
	p, taken, waits := &prose{}, 0, false
	for _, piece := range a.Pieces {
		waits = waits || len(piece.Waits) > 0
		if !piece.Behind() {
			taken++
		}
	}
	p.item("Read %s; wrote %s.", d.Counted(len(a.Sources), "file"), a.To)
	p.item("%s, %s and %s.", d.Counted(taken, "piece"), d.Counted(a.Charts, "chart"), d.Counted(a.Settings, "setting"))
	for _, piece := range a.Pieces {
		rescued(p, piece)
	}
	switch {
	case waits:
		p.next("next, with the chart at hand: strandwise store salvage ANOTHER-FILE --chart CHART-FILE")
		return p.document()
	case !a.Sure:
		p.item("The store could no longer tell which pieces it has: one you removed may be back.")
	}
	p.next("next: strandwise store restore %s", a.To)
	return p.document()
}

// rescued tells one piece, a line for each thing that befell it.
func rescued(p *prose, piece stored.Rescued) {
	line := events(piece.Events)
	if piece.FromBackup > 0 {
		line += fmt.Sprintf(", %d of them from backups", piece.FromBackup)
	}
	p.named(piece.Name, ": %s.", line)
	for _, g := range piece.Gaps {
		p.named(piece.Name, ": %s lost.", stored.GapWords(g))
	}
	if piece.Assumed > 0 {
		p.named(piece.Name, ": %s logged as knitted without the program.", d.Counted(piece.Assumed, "lost row"))
	}
	switch {
	case piece.Cut && piece.Last == 0:
		p.named(piece.Name, ": its beginning is lost, so it could not be taken over; its events are still in the damaged file.")
	case piece.Cut:
		p.named(piece.Name, ": what comes after event %d does not join on and stayed behind. It is now at row %d; strandwise knit --to N catches up.", piece.Last, piece.Row+1)
	}
	for _, w := range piece.Waits {
		p.named(piece.Name, " stayed behind: the chart of its part %s is lost; it was read from %s, and its SHA-256 begins with %s.",
			w.Part, cmp.Or(w.File, "nobody can tell which file"), w.SHA256[:8])
	}
}
