package render

import (
	"fmt"
	"io"
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
// grid was found by itself, the yarn of a cell is uncertain, or the picture leaves
// something open.
func (i *Import) Guessed() bool {
	return i.Report.Reading == chart.GridLines || i.Report.Reading == chart.Blocks || i.Report.Doubtful > 0 || len(i.Report.Questions) > 0
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
	for _, question := range r.Questions {
		p.item("%s", sentence(question))
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
	if r.CellWidth > 1 {
		words = strings.TrimSuffix(words, ".") + fmt.Sprintf(": a cell is %s by %s pixels.", doc.Tenths(r.CellWidth), doc.Tenths(r.CellHeight))
	}
	if r.Colors > r.Apart {
		words += fmt.Sprintf(" It has %d colors, of which %d are clearly apart.", r.Colors, r.Apart)
	}
	return words
}

// ImportJSON is what an import found. Reading is how the cells were come by; doubtful
// cells are counted, and the first of them listed, row 1 the lowest and column 1 the
// rightmost. Questions are what only the knitter can tell: where there are some, the
// reading may be wrong. Written says whether File was written.
type ImportJSON struct {
	File      string             `json:"file"`
	Written   bool               `json:"written"`
	Format    string             `json:"format"`
	Reading   string             `json:"reading"`
	Columns   int                `json:"columns"`
	Rows      int                `json:"rows"`
	Colors    int                `json:"colors"`
	Yarns     []answer.CheckYarn `json:"yarns"`
	Doubtful  int                `json:"doubtful"`
	Places    []ImportPlaceJSON  `json:"places"`
	Questions []string           `json:"questions"`
	Notes     []string           `json:"notes"`
}

// ImportPlaceJSON is a doubtful cell.
type ImportPlaceJSON struct {
	Row    int `json:"row"`
	Column int `json:"column"`
}

// ImportBody is the JSON of an import.
func ImportBody(i *Import, file string, written bool) ImportJSON {
	r := i.Report
	b := ImportJSON{
		File: file, Written: written, Format: r.Format, Columns: i.Chart.Width(), Rows: i.Chart.Height(),
		Colors: r.Colors, Yarns: answer.CheckYarns(i.Chart, false), Doubtful: r.Doubtful, Questions: r.Questions, Notes: r.Notes, Reading: "table",
	}
	if r.Width > 0 {
		b.Reading = r.Reading.String()
	}
	for _, at := range r.Places {
		b.Places = append(b.Places, ImportPlaceJSON{at.Row, at.Column})
	}
	return b
}
