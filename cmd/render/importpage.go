package render

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/answer"
	doc "strandwise/cmd/document"
	"strandwise/cmd/draw"
)

// Import is a chart made from a picture or a table, and what was found on the way.
type Import struct {
	Name   string // of the file
	Chart  *chart.Chart
	Report *chart.Report
}

// Guessed reports whether the knitter should look before the chart is taken: the
// grid was found by itself, or the yarn of a cell is uncertain.
func (i *Import) Guessed() bool {
	unsure := func(m chart.YarnMatch) bool { return m.Far() || m.Doubt }
	return slices.ContainsFunc(i.Report.Taken, unsure) || i.Report.Reading == chart.GridLines || i.Report.Reading == chart.Blocks || i.Report.Doubtful > 0
}

// placesListed is how many doubtful cells are named.
const placesListed = 12

// WriteImport shows the chart and says what was found.
func WriteImport(w io.Writer, i *Import, look Look) error {
	p := newProse(w, look)
	r := i.Report
	p.heading(fmt.Sprintf("%s: %s by %s", i.Name, counted(i.Chart.Width(), "column", "columns"), counted(i.Chart.Height(), "row", "rows")))
	p.item("%s", sourceWords(r))
	for yarn, n := range i.Chart.StitchCounts() {
		y := i.Chart.Yarns[yarn]
		p.item("%c %s %s: %s", y.Symbol, y.Name, y.Color, stitches(n))
	}
	if r.Doubtful > 0 {
		var places []string
		for k, at := range r.Places {
			if k == placesListed {
				places = append(places, "...")
				break
			}
			places = append(places, fmt.Sprintf("row %d column %d", at.Row, at.Column))
		}
		p.list(counted(r.Doubtful, "cell is", "cells are")+" doubtful:", places)
	}
	for _, m := range r.Taken {
		p.item("%s", takenWords(m))
	}
	for _, note := range r.Notes {
		p.item("%s", sentence(note))
	}
	p.gap()
	p.grid(draw.TextOf(i.Chart, false))
	return p.err
}

// sourceWords says how the file was read.
func sourceWords(r *chart.Report) string {
	if r.Width == 0 {
		return fmt.Sprintf("A table of %d by %d cells.", r.Columns, r.Rows)
	}
	words := fmt.Sprintf("A %s of %d by %d pixels, read as %d by %d cells, %s.", r.Format, r.Width, r.Height, r.Columns, r.Rows, r.Reading)
	if r.Reading != chart.OnePixel {
		words = strings.TrimSuffix(words, ".") + fmt.Sprintf(": a cell is %s by %s pixels.", doc.Tenths(r.CellWidth), doc.Tenths(r.CellHeight))
	}
	if r.Colors > r.Apart {
		words += fmt.Sprintf(" It has %d colors, of which %d are clearly apart.", r.Colors, r.Apart)
	}
	return words
}

// takenWords tells for which yarn a color was taken, and how sure that is.
func takenWords(m chart.YarnMatch) string {
	if m.DeltaE == 0 {
		return fmt.Sprintf("%s is %s exactly, %s.", m.From.Color, m.To.Name, stitches(m.Stitches))
	}
	words := fmt.Sprintf("%s %s is taken for %s %s, %s: the difference is %.1f", m.From.Name, m.From.Color, m.To.Name, m.To.Color, stitches(m.Stitches), m.DeltaE)
	switch {
	case m.Far():
		words += ", which is not near"
	case m.Doubt:
		words += ", which is doubtful"
	}
	return words + " (CIEDE2000)."
}

// ImportJSON is what an import found. Reading is how the cells were come by; doubtful
// cells are counted, and the first of them listed, row 1 the lowest and column 1 the
// rightmost. Taken tells, for a chart made with the yarns of another, for which of them
// each color was taken. Written says whether File was written.
type ImportJSON struct {
	File     string             `json:"file"`
	Written  bool               `json:"written"`
	Format   string             `json:"format"`
	Reading  string             `json:"reading"`
	Columns  int                `json:"columns"`
	Rows     int                `json:"rows"`
	Colors   int                `json:"colors"`
	Yarns    []answer.CheckYarn `json:"yarns"`
	Doubtful int                `json:"doubtful"`
	Places   []ImportPlaceJSON  `json:"places"`
	Taken    []ImportTakenJSON  `json:"taken"`
	Notes    []string           `json:"notes"`
}

// ImportPlaceJSON is a doubtful cell.
type ImportPlaceJSON struct {
	Row    int `json:"row"`
	Column int `json:"column"`
}

// ImportTakenJSON is a color of a picture or table and the yarn it was taken for.
// Difference is that of CIEDE2000; doubtful, that another yarn is nearly as near, or
// that the yarn is not near.
type ImportTakenJSON struct {
	Color      string  `json:"color"`
	Yarn       string  `json:"yarn"`
	Stitches   int     `json:"stitches"`
	Difference float64 `json:"difference"`
	Doubtful   bool    `json:"doubtful"`
}

// ImportBody is the JSON of an import.
func ImportBody(i *Import, file string, written bool) ImportJSON {
	r := i.Report
	b := ImportJSON{
		File: file, Written: written, Format: r.Format, Columns: i.Chart.Width(), Rows: i.Chart.Height(),
		Colors: r.Colors, Yarns: answer.CheckYarns(i.Chart, false), Doubtful: r.Doubtful, Notes: r.Notes, Reading: "table",
	}
	if r.Width > 0 {
		b.Reading = r.Reading.String()
	}
	for _, at := range r.Places {
		b.Places = append(b.Places, ImportPlaceJSON{at.Row, at.Column})
	}
	for _, m := range r.Taken {
		b.Taken = append(b.Taken, ImportTakenJSON{
			m.From.Color.String(), string(m.To.Symbol), m.Stitches, math.Round(m.DeltaE*100) / 100, m.Doubt || m.Far(),
		})
	}
	return b
}
