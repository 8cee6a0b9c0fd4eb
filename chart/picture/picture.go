// Package picture makes charts from pictures and tables, and puts charts into the pictures drawn from them. It knows
// no files and asks nobody: what it cannot tell stands in its report.
package picture

import (
	"errors"
	"fmt"

	"strandwise/chart"
)

// Reading a picture as a chart takes six steps. A picture that carries its chart needs none of them (carried.go).
//
//  1. The file is decoded, once its size is known to be small enough (file.go).
//  2. A picture that is turned or tilted is straightened (straight.go).
//  3. The grid is taken as given, found from the edges, or without one a pixel is a stitch (grid.go).
//  4. Each cell gets the median color inside its border: lines, blur and specks do not count (cells.go).
//  5. Uneven light is leveled (there too).
//  6. The colors are gathered into yarns by CIEDE2000 (gather.go), named and given symbols (assemble.go).
//
// The report says what was found, and asks what only the knitter can tell (doubt.go).

// Options says what is known about a picture; the zero value leaves all to be found.
type Options struct {
	Title      string // title of the chart, may be empty
	Columns    int    // 0 when not known
	Rows       int    // 0 when not known
	CellWidth  int    // pixels from one stitch to the next, 0 when not known
	CellHeight int    // pixels from one row to the next, 0 when not known
	Crop       bool   // the chart is to be found in a larger picture first
	Blank      string // the yarn of transparent cells: a color, or the symbol or name of one that is found; NoStitch or empty: they are no stitches
	Yarns      int    // how many yarns to gather the colors into, at most MaxYarns; 0: as many as are clearly apart, at most 8
}

// Reading is how the grid of a picture was come by.
type Reading int

// The ways to come by a grid.
const (
	OnePixel  Reading = iota // one pixel a stitch
	GivenGrid                // as the options say
	GridLines                // found from the lines between the cells
	Blocks                   // found from where colors change: no lines
	Drawn                    // the picture carries the chart it was drawn from
)

// String is the reading in words that go on "read as 24 columns by 16 rows, ".
func (r Reading) String() string {
	return [...]string{"one pixel a stitch", "as given", "found by its grid lines", "found by where the colors change", "as it was drawn"}[r]
}

// Place is a cell of a chart, both counts from 1, row 1 the lowest and column 1 the rightmost.
type Place struct {
	Row    int `json:"row"`
	Column int `json:"column"`
}

// Report says what an import found.
type Report struct {
	Format     string // PNG, JPEG, GIF, SVG or CSV
	Width      int    // pixels; 0 for a table
	Height     int
	Columns    int
	Rows       int
	Reading    Reading
	CellWidth  float64 // pixels from one stitch to the next; 0 for a table
	CellHeight float64
	Colors     int      // different colors among the cells
	Apart      int      // how many of them are clearly apart
	Doubtful   int      // cells whose yarn is uncertain
	Places     []Place  // the first of those, from the top row and the leftmost column on, at most 50
	Questions  []string // what only the knitter can tell: the reading may be wrong
	Notes      []string
	// Taken says for which known yarns the colors were taken; nil where none were told.
	Taken []Match
}

func (r *Report) note(format string, args ...any) {
	r.Notes = append(r.Notes, fmt.Sprintf(format, args...))
}

func (r *Report) ask(format string, args ...any) {
	r.Questions = append(r.Questions, fmt.Sprintf(format, args...))
}

// Import reads a PNG, JPEG or GIF picture as a chart; the top line of the picture is the top row. A pixel or cell
// that is more transparent than not is an empty cell, unless the options say otherwise; rows at the top and bottom
// that have nothing else are left out. A PNG or SVG that Enclose put a chart into gives that chart, when nothing but
// a title is said. The error is one line that says what is wrong and what to do. It takes time linear in the pixels,
// but for the square of the longer side, and holds the picture in memory up to three times, with 4 bytes a pixel.
func Import(data []byte, options Options) (*chart.Chart, *Report, error) {
	if err := options.Check(); err != nil {
		return nil, nil, err
	}
	if c, report := importDrawn(data, options.Title); c != nil && options == (Options{Title: options.Title}) {
		return valid(c, report)
	}
	file, err := decodePicture(data)
	if err != nil {
		return nil, nil, err
	}
	report := &Report{Format: file.format, Width: file.pixels.width, Height: file.pixels.height, Notes: file.notes}
	file.straighten(options, report)
	if options.Crop {
		if err := file.crop(); err != nil {
			return nil, nil, err
		}
	}
	lattice, err := chooseGrid(file, options, report)
	if err != nil {
		return nil, nil, err
	}
	report.Columns, report.Rows = lattice.x.count, lattice.y.count
	report.CellWidth, report.CellHeight = lattice.x.pitch, lattice.y.pitch
	if chart.Fits(report.Columns, report.Rows) != nil {
		return nil, nil, fmt.Errorf("the picture would have %d columns and %d rows; a chart has at most %d and %d: crop it, or "+giveGrid,
			report.Columns, report.Rows, chart.MaxColumns, chart.MaxRows)
	}
	c, err := lattice.chart(lattice.cells(file.pixels), options, report)
	if err != nil {
		return nil, nil, err
	}
	c.Title = options.Title
	c.Comments = []string{fmt.Sprintf(" From a %s picture of %d by %d pixels, %s.", report.Format, report.Width, report.Height, report.Reading)}
	return valid(c, report)
}

func valid(c *chart.Chart, report *Report) (*chart.Chart, *Report, error) {
	if err := c.Validate(); err != nil {
		return nil, nil, err
	}
	return c, report, nil
}

func (g *lattice) chart(cells [][]colorCell, o Options, report *Report) (*chart.Chart, error) {
	g.askAboutPaper(cells, report)
	if g.rough {
		evenLight(cells, report)
	}
	rows, yarns, err := worked(cells, o, !g.rough, report)
	if err != nil {
		return nil, err
	}
	c, err := assemble(rows, yarns, report)
	if err != nil {
		return nil, err
	}
	if err := checkSigns(cells, c, report); err != nil {
		return nil, err
	}
	report.askAboutChart(c, o)
	return c, nil
}

// worked tells for each cell its yarn. Empty ones have the yarn the options say: one found, by symbol or name, else a
// color. Exact colors are free of noise.
func worked(cells [][]colorCell, o Options, exact bool, report *Report) ([][]stitch, []chart.Yarn, error) {
	shades, found := countShades(cells)
	if len(shades) == 0 {
		return nil, nil, errNoStitch
	}
	p, err := gather(shades, o.Yarns, exact)
	if err != nil {
		return nil, nil, err
	}
	yarns := make([]chart.Yarn, len(p.yarns))
	for i, s := range p.yarns {
		yarns[i].Color = s.color
	}
	declare(yarns, nil)
	unworked := chart.YarnNamed(yarns, o.Blank)
	if unworked == noStitch && o.Blank != "" && o.Blank != NoStitch {
		color, is, err := tableColor(o.Blank)
		switch {
		case err != nil:
			return nil, nil, err
		case !is:
			return nil, nil, fmt.Errorf("no yarn found in the picture is %q; its symbol, its name or a color as #RRGGBB", o.Blank)
		}
		for _, row := range cells {
			for i, c := range row {
				if c.empty {
					row[i] = colorCell{color: color, doubtful: c.doubtful}
				}
			}
		}
		o.Blank = ""
		return worked(cells, o, exact, report)
	}
	report.Colors, report.Apart = found, p.apart
	if o.Yarns > len(yarns) {
		report.note("only %d colors differ enough for a yarn each", len(yarns))
	}
	if p.finer > 0 {
		report.ask("near shades were taken for one yarn: if they are two, --yarns %d", p.finer)
	}
	rows := make([][]stitch, len(cells))
	for i, row := range cells {
		rows[i] = make([]stitch, len(row))
		for j, cell := range row {
			s := stitch{yarn: unworked}
			if !cell.empty {
				s = p.belong[cell.color]
			}
			rows[i][j] = stitch{s.yarn, s.doubtful || cell.doubtful}
		}
	}
	return rows, yarns, nil
}

// Check refuses options that contradict each other or are out of range; what to do stands behind a semicolon.
func (o Options) Check() error {
	switch {
	case o.Columns < 0 || o.Rows < 0 || o.CellWidth < 0 || o.CellHeight < 0 || o.Yarns < 0:
		return errors.New("columns, rows, cell size and yarns cannot be negative; leave out what is not known")
	case (o.CellWidth == 0) != (o.CellHeight == 0):
		return errors.New("a cell size needs a width and a height, for example 12x10")
	case o.CellWidth > 0 && (o.Columns > 0 || o.Rows > 0):
		return errors.New("give either columns and rows or the cell size, not both")
	case o.Columns > chart.MaxColumns || o.Rows > chart.MaxRows:
		return chart.Fits(o.Columns, o.Rows)
	case o.Yarns > MaxYarns:
		return fmt.Errorf("%d yarns are too many to gather colors into; at most %d", o.Yarns, MaxYarns)
	}
	return nil
}
