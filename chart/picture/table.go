package picture

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
)

// Reading a table as a chart takes four steps, one file each.
//
//  1. The bytes become text, and the text cells (tabletext.go).
//  2. Lines of numbers along an edge, by which knitters count rows and columns, are
//     left out (tablenumbers.go).
//  3. Each cell is told what it says: a symbol, a color or the name of a yarn
//     (tablecell.go). A blank cell says what the knitter says it does.
//  4. What the cells say becomes yarns (here).
//
// Nothing is taken for a cell without a stitch that does not say so itself.

// NoStitch is the value of TableOptions.Blank by which blank cells hold no stitch.
const NoStitch = "no-stitch"

// TableOptions says what is known about a table.
type TableOptions struct {
	Title string       // title of the chart, may be empty
	Yarns []chart.Yarn // the yarns its symbols, names and colors stand for; nil when not known
	Blank string       // what a blank cell stands for, written as in a cell, or NoStitch; empty when not known
}

// BlankError tells that a table has blank cells and nothing says what they stand for.
type BlankError struct {
	Cells      int // how many are blank
	Line, Cell int // the first of them, from 1
}

func (e *BlankError) Error() string {
	if e.Cells == 1 {
		return fmt.Sprintf("line %d, cell %d is blank, and nothing says which yarn that is", e.Line, e.Cell)
	}
	return fmt.Sprintf("%d cells are blank, and nothing says which yarn they are: the first is line %d, cell %d", e.Cells, e.Line, e.Cell)
}

// ImportTable reads a table (RFC 4180: one record a line, cells quoted where needed) as a
// chart: the first record is the top row, the first cell the leftmost column. Cells
// are parted by commas, semicolons or tabs; the text is UTF-8 or UTF-16. A cell holds a
// symbol as in a chart file, a color (#RRGGBB, #RGB, RRGGBB or a name of CSS) or the name
// of a yarn; one that holds _ is an empty cell. A record that ends early lacks blank
// cells, and each of these is doubtful. Where yarns are known, a color stands for the nearest,
// as Report.Taken says; what they do not name gets a made-up name or color, and the report
// says so. The error is a *BlankError, or one line with the line and
// cell, both from 1, where there is one, and after a semicolon what to do.
func ImportTable(data []byte, options TableOptions) (*chart.Chart, *Report, error) {
	text, err := tableText(data)
	if err != nil {
		return nil, nil, err
	}
	records, err := readRecords(text)
	if err != nil {
		return nil, nil, err
	}
	report := &Report{Format: "CSV"}
	records = withoutNumbers(records, report)
	if len(records) == 0 {
		return nil, nil, errors.New("the table has row or column numbers and nothing else; it needs a cell for each stitch")
	}
	if err := checkSize(records, options.Blank != ""); err != nil {
		return nil, nil, err
	}
	t := table{options: options}
	if err := t.read(records); err != nil {
		return nil, nil, err
	}
	report.Columns, report.Rows = len(t.cells[0]), len(t.cells)
	size := chart.Counted(report.Columns, "column") + " and " + chart.Counted(report.Rows, "row")
	c, err := t.chart(report)
	if err != nil {
		return nil, nil, err
	}
	c.Title = options.Title
	c.Comments = []string{" From a table of " + size + "."}
	if err := c.Validate(); err != nil {
		return nil, nil, err
	}
	return c, report, nil
}

// table is what the cells say, from the top and from the left.
type table struct {
	options TableOptions
	says    []saying // all that is said, in the order it is met
	cells   [][]int  // index into says, or noStitch
	given   []int    // how many cells of each row the file has; those behind them are blank
	missing int      // all that it does not have
	blanks  int
}

// noStitch is the index of a cell that holds no stitch.
const noStitch = -1

// read tells each cell what it says.
func (t *table) read(records []record) error {
	blank, err := t.blank()
	if err != nil {
		return err
	}
	first := &BlankError{}
	for _, r := range records {
		row := make([]int, len(r.cells))
		for i, text := range r.cells {
			text = strings.TrimSpace(text)
			if text == "" {
				if first.Cells++; first.Cells == 1 {
					first.Line, first.Cell = r.line, r.first+i
				}
				row[i] = blank
				continue
			}
			if row[i], err = t.cell(text); err != nil {
				return fmt.Errorf("line %d, cell %d: %w", r.line, r.first+i, err)
			}
		}
		t.cells, t.given = append(t.cells, row), append(t.given, len(row)-r.missing)
		t.missing += r.missing
	}
	if t.blanks = first.Cells; t.blanks > 0 && t.options.Blank == "" {
		return first
	}
	return nil
}

// blank is what blank cells say.
func (t *table) blank() (int, error) {
	text := strings.TrimSpace(t.options.Blank)
	if text == "" || text == string(emptySymbol) || strings.EqualFold(text, NoStitch) {
		return noStitch, nil
	}
	s, err := t.say(text)
	if err != nil {
		return noStitch, fmt.Errorf("blank cells cannot be %q: %w", text, err)
	}
	return t.index(s), nil
}

// cell is the index of what a cell says. Symbols are not to be mixed with colors or with names
// that no known yarn has: one of the two is a slip.
func (t *table) cell(text string) (int, error) {
	if text == string(emptySymbol) {
		return noStitch, nil
	}
	s, err := t.say(text)
	if err != nil {
		return noStitch, err
	}
	for _, other := range t.says {
		if other.met && other.mixes(s) {
			return noStitch, fmt.Errorf("%s stands where others are of another kind: symbols are not mixed with colors or names; use one of the two", short(text))
		}
	}
	i := t.index(s)
	if i == chart.MaxSymbols {
		return noStitch, fmt.Errorf("the table has more than %d different %s; a chart from a table has at most %d yarns", chart.MaxSymbols, t.what(), MaxYarns)
	}
	t.says[i].met = true
	return i, nil
}

// index is the place of what is said among all that is, which it may be the first to say.
func (t *table) index(s saying) int {
	if i := slices.IndexFunc(t.says, s.same); i >= 0 {
		return i
	}
	t.says = append(t.says, s)
	return len(t.says) - 1
}

// chart makes the chart: each saying is given a color to be told by, and then its own
// symbol and name.
func (t *table) chart(report *Report) (*chart.Chart, error) {
	used := t.used()
	if len(used) > MaxYarns {
		return nil, fmt.Errorf("the table has %d different %s; a chart from a table has at most %d yarns", len(used), t.what(), MaxYarns)
	}
	t.paint(used)
	rows := make([][]colorCell, len(t.cells))
	for i, row := range t.cells {
		rows[i] = make([]colorCell, len(row))
		for j, said := range row {
			rows[i][j].doubtful = j >= t.given[i]
			if rows[i][j].empty = said == noStitch; said != noStitch {
				rows[i][j].color = t.says[said].paint
			}
		}
	}
	c, err := chartOf(rows, gathering{yarns: max(len(used), 1), exact: true}, report)
	if err != nil {
		return nil, err
	}
	t.name(c, used, report)
	if slices.ContainsFunc(used, func(i int) bool { return t.says[i].bare() }) && len(t.options.Yarns) > 0 {
		c, report.Taken = TakeYarns(c, t.options.Yarns)
	}
	return c, nil
}

// used lists the sayings of cells.
func (t *table) used() []int {
	var used []int
	seen := map[int]bool{noStitch: true}
	for _, row := range t.cells {
		for _, said := range row {
			if !seen[said] {
				seen[said] = true
				used = append(used, said)
			}
		}
	}
	return used
}

// what is the word for what the cells say.
func (t *table) what() string {
	for _, s := range t.says {
		switch {
		case s.met && s.symbol != 0:
			return "symbols"
		case s.met && !s.colored:
			return "yarns"
		}
	}
	return "colors"
}

// paint gives each saying a color no other has: its own, where no yarn told before has the same.
func (t *table) paint(used []int) {
	taken := map[chart.Color]bool{}
	for _, i := range used {
		if s := &t.says[i]; s.colored && !taken[s.color] {
			s.paint, taken[s.color] = s.color, true
		}
	}
	free := slices.Clone(madeUp)
	for _, i := range used {
		s := &t.says[i]
		if s.colored && s.paint == s.color {
			continue
		}
		for taken[free[0]] {
			free = free[1:]
		}
		s.paint, free = free[0], free[1:]
		taken[s.paint] = true
	}
}

// name gives the chart's yarns what the table and the known yarns say of them.
func (t *table) name(c *chart.Chart, used []int, report *Report) {
	by, invented := map[rune]rune{}, 0
	plain := make([]string, len(c.Yarns))
	said := make([]saying, len(c.Yarns))
	for i, y := range c.Yarns {
		at := slices.IndexFunc(used, func(i int) bool { return t.says[i].paint == y.Color })
		said[i], plain[i] = t.says[used[at]], y.Name
	}
	symbols := freeSymbols(said)
	for i := range c.Yarns {
		y, s := &c.Yarns[i], said[i]
		was := y.Symbol
		switch {
		case s.known != nil:
			*y = *s.known
		case s.symbol != 0:
			y.Symbol, y.Name = s.symbol, t.freeName(plain[i])
			invented++
		default:
			y.Symbol, symbols = symbols[0], symbols[1:]
			if y.Name = s.name; s.name == "" {
				y.Name = t.freeName(plain[i])
			}
			if !s.colored {
				invented++
			}
		}
		by[was] = y.Symbol
	}
	exchange(c, by)
	t.tell(invented, report)
}

// freeSymbols are symbols for yarns that have none yet.
func freeSymbols(said []saying) []rune {
	return slices.DeleteFunc([]rune(importSymbols), func(r rune) bool {
		return slices.ContainsFunc(said, func(s saying) bool {
			return s.symbol == r || s.known != nil && s.known.Symbol == r
		})
	})
}

// tell notes what was made up or filled in.
func (t *table) tell(invented int, report *Report) {
	note := func(format string, args ...any) { report.Notes = append(report.Notes, fmt.Sprintf(format, args...)) }
	if t.missing > 0 {
		note("%s missing at the ends of lines, and taken as blank", cellsAre(t.missing))
	}
	if t.blanks > 0 {
		note("%s blank: %s", cellsAre(t.blanks), t.options.Blank)
	}
	if invented == 1 {
		note("name or color of 1 yarn is made up; write the right one into the chart file")
	} else if invented > 1 {
		note("names or colors of %d yarns are made up; write the right ones into the chart file", invented)
	}
}

func cellsAre(n int) string {
	if n == 1 {
		return "1 cell is"
	}
	return fmt.Sprintf("%d cells are", n)
}

// freeName is the name, or one like it that no known or told yarn has.
func (t *table) freeName(name string) string {
	taken := func(other string) bool { return strings.EqualFold(other, name) }
	for slices.ContainsFunc(t.options.Yarns, func(y chart.Yarn) bool { return taken(y.Name) }) ||
		slices.ContainsFunc(t.says, func(s saying) bool { return taken(s.name) }) {
		name += " b"
	}
	return name
}

// madeUp are colors for yarns nothing is known about, clearly apart from one
// another, the first for the yarn met first.
var madeUp = []chart.Color{
	rgb(0xF2, 0xEA, 0xD8),
	rgb(0x1E, 0x3F, 0x66),
	rgb(0xB0, 0x3A, 0x2E),
	rgb(0x4F, 0x7A, 0x4A),
	rgb(0xE0, 0xA5, 0x2B),
	rgb(0x7A, 0x4E, 0x8A),
	rgb(0x8A, 0x8D, 0x90),
	rgb(0x5B, 0xB5, 0xB0),
	rgb(0x6B, 0x47, 0x2B),
	rgb(0xE8, 0x8F, 0xA8),
	rgb(0x2B, 0x2B, 0x2E),
	rgb(0x6F, 0x9F, 0xD8),
	rgb(0xB9, 0xC9, 0x6A),
	rgb(0xD0, 0x6A, 0x2C),
	rgb(0x1F, 0x5E, 0x4C),
	rgb(0xC7, 0xB2, 0xDE),
}
