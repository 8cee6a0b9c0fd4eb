package chart

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"
)

func (p *parser) rows(from int) {
	unknown := map[rune]bool{}
	for line := from; line <= len(p.lines) && !p.full(); line++ {
		if strings.TrimSpace(p.lines[line-1]) == "" {
			continue
		}
		if len(p.rowLines) == MaxRows {
			p.fault(line, 1, "cut the chart into parts", "the chart has more than %d rows", MaxRows)
			break
		}
		if row := p.row(line, unknown); row != nil {
			p.chart.Rows, p.rowLines = append(p.chart.Rows, row), append(p.rowLines, line)
		}
	}
	if len(p.rowLines) == 0 {
		if len(p.faults) == 0 {
			p.fault(len(p.lines), 1, "write the rows below rows:, the lowest last", "the chart has no rows")
		}
		return
	}
	p.evenRows()
	p.chart.turnAround()
}

// row reads one line of the grid, from the left; nil when it is none.
func (p *parser) row(line int, unknown map[rune]bool) []rune {
	text := p.lines[line-1]
	if strings.HasPrefix(strings.TrimSpace(text), "#") {
		p.fault(line, strings.Index(text, "#")+1, "move the comment above rows:", "a comment cannot stand among the rows")
		return nil
	}
	symbols := make([]rune, 0, len(text))
	column := 0
	for _, r := range text {
		column++
		if unicode.IsSpace(r) {
			continue
		}
		if _, ok := p.declared[r]; !ok {
			if !unknown[r] && !p.full() {
				unknown[r] = true
				p.unknownSymbol(line, column, r)
			}
			if CheckSymbol(r) != nil {
				continue // no cell, or the row would be called too long as well
			}
		}
		if symbols = append(symbols, r); len(symbols) > MaxColumns {
			p.fault(line, column, "cut the chart into parts", "the row has more than %d columns", MaxColumns)
			return nil
		}
	}
	return symbols
}

// unknownSymbol is called once for each, or a yarn left out would fill the screen.
func (p *parser) unknownSymbol(line, column int, r rune) {
	declared := p.symbols()
	if unicode.IsDigit(r) {
		p.fault(line, column, "write no numbers in the grid: the last line is row 1", "the digit %c is not a stitch", r)
	} else if near := NearestSymbol(r, declared); near != 0 {
		p.fault(line, column, fmt.Sprintf("did you mean %c?", near), "the symbol %c is not declared", r)
	} else if err := CheckSymbol(r); err != nil {
		p.fault(line, column, "delete it; the declared symbols are "+spoken(declared), "%v", err)
	} else {
		p.fault(line, column, fmt.Sprintf("declare it (yarn: %c NAME COLOR) or use one of %s", r, spoken(declared)),
			"the symbol %c is not declared", r)
	}
}

// symbols lists what is declared, in the order of the lines.
func (p *parser) symbols() []rune {
	return slices.SortedFunc(maps.Keys(p.declared), func(a, b rune) int {
		return cmp.Or(p.declared[a]-p.declared[b], int(a-b))
	})
}

// evenRows holds that every row has as many cells as most rows have (of two
// widths equally frequent, the one met first), and at least one stitch.
func (p *parser) evenRows() {
	seen := map[int]int{}
	for _, row := range p.chart.Rows {
		seen[len(row)]++
	}
	usual := len(slices.MaxFunc(p.chart.Rows, func(a, b []rune) int { return seen[len(a)] - seen[len(b)] }))
	for i, row := range p.chart.Rows {
		line := p.rowLines[i]
		switch n := len(row); {
		case n != usual:
			p.fault(line, cellColumn(p.lines[line-1], usual+1),
				"every row needs the same number of cells", "this row has %s, the others %d", Counted(n, "cell"), usual)
		case p.chart.Empty != 0 && allEmpty(row, p.chart.Empty):
			p.fault(line, cellColumn(p.lines[line-1], 1),
				"leave the row out, or give it a stitch", "the row has only empty cells")
		}
	}
}

// cellColumn is the column of the nth cell, both from 1; that behind the last if there are fewer.
func cellColumn(text string, n int) int {
	column := 0
	for _, r := range strings.TrimRightFunc(text, unicode.IsSpace) {
		column++
		if !unicode.IsSpace(r) {
			if n--; n == 0 {
				return column
			}
		}
	}
	return column + 1
}

func allEmpty(symbols []rune, empty rune) bool {
	return !slices.ContainsFunc(symbols, func(r rune) bool { return r != empty })
}
