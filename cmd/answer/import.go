package answer

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/chart/picture"
	d "strandwise/cmd/document"
	"strandwise/cmd/draw"
)

// Import is what an import found. Reading is how the cells were come by; doubtful
// cells are counted, and the first of them listed, row 1 the lowest and column 1 the
// rightmost. Questions are what only the knitter can tell: where there are some, the
// reading may be wrong. Taken tells, for a chart made with the yarns of another, for which of them
// each color was taken. Written says whether File was written.
type Import struct {
	File      string          `json:"file"`
	Written   bool            `json:"written"`
	Format    string          `json:"format"`
	Reading   string          `json:"reading"`
	Columns   int             `json:"columns"`
	Rows      int             `json:"rows"`
	Colors    int             `json:"colors"`
	Yarns     []CheckYarn     `json:"yarns"`
	Doubtful  int             `json:"doubtful"`
	Places    []picture.Place `json:"places"`
	Questions []string        `json:"questions"`
	Notes     []string        `json:"notes"`
	Taken     []ImportTaken   `json:"taken"`

	name   string // of the file that was read
	chart  *chart.Chart
	report *picture.Report
}

// ImportTaken is a color of a picture or table and the yarn it was taken for.
// Difference is that of CIEDE2000; doubtful, that another yarn is nearly as near, or
// that the yarn is not near.
type ImportTaken struct {
	Color      string  `json:"color"`
	Yarn       string  `json:"yarn"`
	Stitches   int     `json:"stitches"`
	Difference float64 `json:"difference"`
	Doubtful   bool    `json:"doubtful"`
}

// NewImport is the answer about a chart made from a picture or a table of that name.
func NewImport(name string, c *chart.Chart, r *picture.Report) *Import {
	i := &Import{
		Format: r.Format, Columns: c.Width(), Rows: c.Height(), Colors: r.Colors, Yarns: CheckYarns(c, false),
		Doubtful: r.Doubtful, Places: r.Places, Questions: r.Questions, Notes: r.Notes, Reading: "table", name: name, chart: c, report: r,
	}
	if r.Width > 0 {
		i.Reading = r.Reading.String()
	}
	i.Taken = mapped(r.Taken, func(m picture.Match) ImportTaken {
		return ImportTaken{m.From.Color.String(), string(m.To.Symbol), m.Stitches, hundredths(m.DeltaE), m.Doubt || m.Far()}
	})
	return i
}

// Guessed reports whether the knitter should look before the chart is taken: the grid was found by itself, the yarn of
// a cell is uncertain, or the picture leaves something open.
func (i *Import) Guessed() bool {
	unsure := func(t ImportTaken) bool { return t.Doubtful }
	return slices.ContainsFunc(i.Taken, unsure) || i.report.Reading == picture.GridLines || i.report.Reading == picture.Blocks || i.Doubtful > 0 || len(i.Questions) > 0
}

const placesListed = 12 // doubtful cells that are named

// Document says what was found and shows the chart.
func (i *Import) Document() d.Document {
	p := &prose{}
	p.heading(d.Named(i.name, fmt.Sprintf(": %s by %s", d.Counted(i.Columns, "column"), d.Counted(i.Rows, "row"))))
	p.item("%s", sourceWords(i.report))
	for _, y := range i.Yarns {
		p.add(d.Line{Text: d.Text{symbol(y.Symbol), {Text: fmt.Sprintf(" %s %s: %s", y.Name, y.Color, stitches(y.Stitches))}}})
	}
	p.eachItem(mapped(i.report.Taken, takenWords))
	if i.Doubtful > 0 {
		places := mapped(i.Places[:min(len(i.Places), placesListed)], func(at picture.Place) string {
			return fmt.Sprintf("row %d column %d", at.Row, at.Column)
		})
		if len(i.Places) > placesListed {
			places = append(places, "...")
		}
		p.list(are(i.Doubtful, "cell")+" doubtful:", places)
	}
	p.eachItem(mapped(slices.Concat(i.Questions, i.Notes), d.Sentence))
	p.add(d.Letters{Drawing: draw.TextOf(i.chart, false)})
	return d.Document{Title: i.name, Yarns: i.chart.Yarns, Blocks: p.blocks}
}

func takenWords(m picture.Match) string {
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

func sourceWords(r *picture.Report) string {
	if r.Width == 0 {
		return fmt.Sprintf("A table of %d by %d cells.", r.Columns, r.Rows)
	}
	words := fmt.Sprintf("A %s of %d by %d pixels, read as %d by %d cells, %s.", r.Format, r.Width, r.Height, r.Columns, r.Rows, r.Reading)
	if r.CellWidth > 1 {
		words = strings.TrimSuffix(words, ".") + fmt.Sprintf(": a cell is %s by %s pixels.", d.Tenths(r.CellWidth), d.Tenths(r.CellHeight))
	}
	if r.Colors > r.Apart {
		words += fmt.Sprintf(" It has %d colors, of which %d are clearly apart.", r.Colors, r.Apart)
	}
	return words
}
