package picture

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
)

// Reading a table as a chart takes four steps, one file each.
//
//  1. The bytes become text, and the text cells (tabletext.go).
//  2. Lines of numbers along an edge, by which knitters count, are left out (tablenumbers.go).
//  3. Each cell says a symbol, a color or the name of a yarn, a blank one what the knitter says (tablecell.go).
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

// ImportTable reads a table (RFC 4180: one record a line, cells quoted where needed) as a chart: the first record is
// the top row, the first cell the leftmost column. Cells are parted by commas, semicolons or tabs; the text is UTF-8
// or UTF-16. A cell holds a symbol as in a chart file, a color (#RRGGBB, #RGB, RRGGBB or a name of CSS) or the name
// of a yarn; one that holds _ is an empty cell. A record that ends early lacks blank cells, and each of these is
// doubtful. Where yarns are known, a color stands for the nearest, as Report.Taken says; what they do not name gets a
// made-up name or color, and the report says so. The error is a *BlankError, or one line with the line and cell, both
// from 1, where there is one, and after a semicolon what to do.
func ImportTable(data []byte, options TableOptions) (*chart.Chart, *Report, error) {
	text, err := tableText(data)
	if err != nil {
		return nil, nil, err
	}
	cells, err := readCells(text)
	if err != nil {
		return nil, nil, err
	}
	report := &Report{Format: "CSV"}
	cells = withoutNumbers(cells, report)
	if len(cells) == 0 {
		return nil, nil, errors.New("the table has row or column numbers and nothing else; it needs a cell for each stitch")
	}
	t := table{options: options, index: map[chart.Yarn]int{}}
	rows, err := t.read(cells, report)
	if err != nil {
		return nil, nil, err
	}
	report.Columns, report.Rows = len(rows[0]), len(rows)
	size := chart.Counted(report.Columns, "column") + " and " + chart.Counted(report.Rows, "row")
	c, err := t.chart(rows, report)
	if err != nil {
		return nil, nil, err
	}
	c.Title = options.Title
	c.Comments = []string{" From a table of " + size + "."}
	return valid(c, report)
}

type table struct {
	options TableOptions
	says    []saying           // all that is said, in the order it is met
	index   map[chart.Yarn]int // where in says something is, by its key
	met     kind               // of the first cell that says no known yarn
}

func (t *table) read(cells [][]tableCell, report *Report) ([][]stitch, error) {
	blank := strings.TrimSpace(t.options.Blank)
	if blank == "" || strings.EqualFold(blank, NoStitch) {
		blank = string(emptySymbol)
	}
	if _, err := t.say(blank); err != nil {
		return nil, fmt.Errorf("blank cells cannot be %q: %w", blank, err)
	}
	var first *tableCell
	blanks, missing := 0, 0
	rows := make([][]stitch, len(cells))
	for i, line := range cells {
		if i == chart.MaxRows || len(line) > chart.MaxColumns {
			return nil, tooLargeTable(line[0].line)
		}
		for j, cell := range line {
			if cell.missing && t.options.Blank == "" {
				whole := slices.IndexFunc(cells, func(other []tableCell) bool { return !other[len(line)-1].missing })
				return nil, fmt.Errorf("line %d has %s, line %d has %d; every row needs the same number of cells, or --blank YARN says what those that are missing are",
					cell.line, chart.Counted(j, "cell"), cells[max(whole, 0)][0].line, len(line))
			}
			if cell.text == "" {
				blanks++
				first = cmp.Or(first, &cell)
			}
			if cell.missing {
				missing++
			}
			said, err := t.cell(cmp.Or(cell.text, blank), cell.text == "")
			if err != nil {
				return nil, fmt.Errorf("line %d, cell %d: %w", cell.line, cell.at, err)
			}
			rows[i] = append(rows[i], stitch{said, cell.missing})
		}
	}
	if blanks > 0 && t.options.Blank == "" {
		return nil, &BlankError{blanks, first.line, first.at}
	}
	if missing > 0 {
		report.note("%s missing at the ends of lines, and taken as blank", cellsAre(missing))
	}
	if blanks > 0 {
		report.note("%s blank: %s", cellsAre(blanks), t.options.Blank)
	}
	return rows, nil
}

// cell is the index of what a cell says. Symbols mixed with colors or names that no known yarn has are a slip; a
// blank cell may be of another kind.
func (t *table) cell(text string, blank bool) (int, error) {
	if text == string(emptySymbol) {
		return noStitch, nil
	}
	s, err := t.say(text)
	if err != nil {
		return noStitch, err
	}
	if s.kind != known && !blank {
		if t.met = cmp.Or(t.met, s.kind); (s.kind == symbols) != (t.met == symbols) {
			return noStitch, fmt.Errorf("%s stands where others are of another kind: symbols are not mixed with colors or names; use one of the two", short(text))
		}
	}
	i, met := t.index[s.key()]
	if !met {
		i = len(t.says)
		t.index[s.key()], t.says = i, append(t.says, s)
	}
	t.says[i].cells++
	return i, nil
}

func (t *table) chart(rows [][]stitch, report *Report) (*chart.Chart, error) {
	if report.Colors = len(t.says); report.Colors > MaxYarns {
		return nil, fmt.Errorf("the table has %d different %s; a chart from a table has at most %d yarns", report.Colors, t.met, MaxYarns)
	}
	t.paint(report)
	says := slices.Clone(t.says)
	slices.SortStableFunc(says, func(a, b saying) int { return b.cells - a.cells })
	yarns := make([]chart.Yarn, len(says))
	for i, s := range says {
		yarns[i] = s.yarn
	}
	for _, row := range rows {
		for j, s := range row {
			if s.yarn != noStitch {
				row[j].yarn = slices.Index(says, t.says[s.yarn])
			}
		}
	}
	declare(yarns, t.options.Yarns)
	c, err := assemble(rows, yarns, report)
	if err != nil {
		return nil, err
	}
	if len(t.options.Yarns) > 0 && slices.ContainsFunc(says, func(s saying) bool { return s.kind == colors }) {
		c, report.Taken = TakeYarns(c, t.options.Yarns)
	}
	return c, nil
}

// paint makes up a color, which no other has, for each yarn without one, and says so.
func (t *table) paint(report *Report) {
	free, painted := slices.Clone(madeUp), 0
	for _, s := range t.says {
		if s.kind.colored() {
			free = slices.DeleteFunc(free, func(c chart.Color) bool { return c == s.yarn.Color })
		}
	}
	for i := range t.says {
		if s := &t.says[i]; !s.kind.colored() {
			s.yarn.Color = free[painted]
			painted++
		}
	}
	if painted == 1 {
		report.note("name or color of 1 yarn is made up; write the right one into the chart file")
	} else if painted > 1 {
		report.note("names or colors of %d yarns are made up; write the right ones into the chart file", painted)
	}
}

func cellsAre(n int) string {
	if n == 1 {
		return "1 cell is"
	}
	return fmt.Sprintf("%d cells are", n)
}

// madeUp are colors for yarns nothing is known about, clearly apart from one another, in the order they are met.
var madeUp = []chart.Color{
	rgb(0xF2, 0xEA, 0xD8), rgb(0x1E, 0x3F, 0x66), rgb(0xB0, 0x3A, 0x2E), rgb(0x4F, 0x7A, 0x4A),
	rgb(0xE0, 0xA5, 0x2B), rgb(0x7A, 0x4E, 0x8A), rgb(0x8A, 0x8D, 0x90), rgb(0x5B, 0xB5, 0xB0),
	rgb(0x6B, 0x47, 0x2B), rgb(0xE8, 0x8F, 0xA8), rgb(0x2B, 0x2B, 0x2E), rgb(0x6F, 0x9F, 0xD8),
	rgb(0xB9, 0xC9, 0x6A), rgb(0xD0, 0x6A, 0x2C), rgb(0x1F, 0x5E, 0x4C), rgb(0xC7, 0xB2, 0xDE),
}
