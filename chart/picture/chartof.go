package picture

import (
	"fmt"
	"slices"

	"strandwise/chart"
)

// importSymbols stand for the yarns of an import, that of most stitches first;
// emptySymbol for an empty cell. They are easy to tell apart in any typeface.
const (
	importSymbols = ".x+o=*v&^%~s|zT?"
	emptySymbol   = '_'
)

// chartOf makes a chart of cells in rows from the top and from the left, and adds
// to the report what it met.
func chartOf(rows [][]colorCell, g gathering, report *Report) (*chart.Chart, error) {
	if !g.blank {
		var err error
		if rows, err = trimEmptyRows(rows, report); err != nil {
			return nil, err
		}
	}
	shades := countShades(rows)
	yarns, err := g.gather(shades)
	if err != nil {
		return nil, err
	}
	report.Colors, report.Apart = len(shades), yarns.apart
	if g.yarns > len(yarns.yarns) {
		report.Notes = append(report.Notes, fmt.Sprintf("only %d colors differ enough for a yarn each", len(yarns.yarns)))
	}
	if yarns.finer > 0 {
		report.Questions = append(report.Questions, fmt.Sprintf("near shades were taken for one yarn: if they are two, --yarns %d", yarns.finer))
	}
	order, c := orderYarns(yarns)
	fillFrom(c, rows, yarns, order, report)
	return c, nil
}

// trimEmptyRows leaves out rows without a stitch above and below the chart.
func trimEmptyRows(rows [][]colorCell, report *Report) ([][]colorCell, error) {
	blank := func(row []colorCell) bool {
		return !slices.ContainsFunc(row, func(c colorCell) bool { return !c.empty })
	}
	first, last := 0, len(rows)
	for first < last && blank(rows[first]) {
		first++
	}
	for last > first && blank(rows[last-1]) {
		last--
	}
	if first == last {
		return nil, errNoStitch
	}
	for i := first; i < last; i++ {
		if blank(rows[i]) {
			return nil, fmt.Errorf("line %d of %d from the top has only empty cells between stitches; say what they are with --blank YARN, or cut it out", i+1, len(rows))
		}
	}
	if trimmed := len(rows) - (last - first); trimmed > 0 {
		report.Notes = append(report.Notes, fmt.Sprintf("rows without a stitch left out: %d at the top, %d at the bottom", first, len(rows)-last))
		report.Rows = last - first
	}
	return rows[first:last], nil
}

// orderYarns declares the yarns, that of most stitches first, and returns the
// symbol of each yarn of the palette.
func orderYarns(p *palette) ([]rune, *chart.Chart) {
	sorted := slices.Clone(p.yarns)
	slices.SortFunc(sorted, byCells)
	colors := make([]chart.Color, len(sorted))
	for i, s := range sorted {
		colors[i] = s.color
	}
	c := &chart.Chart{}
	symbols := []rune(importSymbols)
	for i, name := range colorNames(colors) {
		c.Yarns = append(c.Yarns, chart.Yarn{Symbol: symbols[i], Name: name, Color: colors[i]})
	}
	order := make([]rune, len(p.yarns))
	for i, s := range p.yarns {
		order[i] = symbols[slices.Index(colors, s.color)]
	}
	return order, c
}

func fillFrom(c *chart.Chart, rows [][]colorCell, p *palette, order []rune, report *Report) {
	c.Rows = make([][]rune, len(rows))
	for i, row := range rows {
		symbols := make([]rune, len(row))
		for j, cell := range row {
			v := verdict{}
			if !cell.empty {
				v = p.belong[cell.color]
				symbols[len(row)-1-j] = order[v.yarn]
			} else {
				symbols[len(row)-1-j], c.Empty = emptySymbol, emptySymbol
			}
			if cell.doubtful || v.doubt {
				report.doubt(Place{len(rows) - i, len(row) - j})
			}
		}
		c.Rows[len(rows)-1-i] = symbols
	}
}

func (r *Report) doubt(p Place) {
	if r.Doubtful++; r.Doubtful <= doubtsListed {
		r.Places = append(r.Places, p)
	}
}
