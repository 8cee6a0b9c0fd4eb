package picture

import (
	"encoding/binary"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"strandwise/chart"
)

// Reading a table as a chart takes four steps.
//
//  1. The bytes become text, and the text cells.
//  2. Lines of numbers along an edge, by which knitters count, are left out.
//  3. Each cell says a symbol, a color or the name of a yarn, a blank one what the knitter says (tableyarns.go).
//  4. What the cells say becomes yarns (there too).
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
	cells, err := readCells(data)
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

type tableCell struct {
	text    string // without blanks around it
	line    int    // both from 1
	at      int
	missing bool // its line ended before it; it is blank
}

// tableText is the text of a table, with LF at the ends of lines: UTF-8, or UTF-16, by its byte order mark or as
// Latin text shows.
func tableText(data []byte) (string, error) {
	if len(data) > chart.MaxBytes {
		return "", fmt.Errorf("the table has %d bytes, more than %d; is this the right file?", len(data), chart.MaxBytes)
	}
	text := string(data)
	if order := utf16Order(data); order != nil {
		if len(data)%2 != 0 {
			return "", errors.New("the table is UTF-16 text that ends within a character; save it as CSV in UTF-8")
		}
		units := make([]uint16, len(data)/2)
		_, _ = binary.Decode(data, order, units) // as many as there are
		text = string(utf16.Decode(units))
	}
	text = strings.TrimPrefix(text, "\uFEFF")
	for i, r := range text {
		if r == utf8.RuneError && !strings.HasPrefix(text[i:], string(utf8.RuneError)) {
			before := text[:i]
			line := before[strings.LastIndex(before, "\n")+1:]
			return "", fmt.Errorf("line %d, character %d: the byte %02X is not UTF-8 text; save the table as CSV in UTF-8",
				strings.Count(before, "\n")+1, utf8.RuneCountInString(line)+1, text[i])
		}
	}
	if !strings.Contains(text, "\n") {
		text = strings.ReplaceAll(text, "\r", "\n")
	}
	return text, nil
}

// utf16Order is the byte order of UTF-16 text, nil for any other.
func utf16Order(data []byte) binary.ByteOrder {
	switch {
	case len(data) < 2:
	case data[0] == 0xFF && data[1] == 0xFE || data[0] != 0 && data[1] == 0:
		return binary.LittleEndian
	case data[0] == 0xFE && data[1] == 0xFF || data[0] == 0 && data[1] != 0:
		return binary.BigEndian
	}
	return nil
}

// readCells parts the text into lines of the same number of cells. A blank line between others is one without cells:
// the standard library's reader passes it over, a spreadsheet means a row.
func readCells(data []byte) ([][]tableCell, error) {
	text, err := tableText(data)
	if err != nil {
		return nil, err
	}
	mark, text := separator(text)
	reader := csv.NewReader(strings.NewReader(text))
	reader.FieldsPerRecord, reader.Comma = -1, mark
	var lines [][]tableCell
	most, next := 0, 0 // cells of the longest line; the line behind the last
	for {
		fields, err := reader.Read()
		if fault, is := errors.AsType[*csv.ParseError](err); is {
			return nil, tableFault(fault)
		} else if err != nil { // the end
			break
		}
		number, _ := reader.FieldPos(0)
		for ; len(lines) > 0 && next < number && len(lines) <= chart.MaxRows; next++ {
			lines = append(lines, []tableCell{{line: next, at: 1, missing: true}})
		}
		line := make([]tableCell, len(fields))
		for i, field := range fields {
			line[i] = tableCell{text: strings.TrimSpace(field), line: number, at: i + 1}
		}
		lines = append(lines, line)
		last, _ := reader.FieldPos(len(fields) - 1)
		next = last + strings.Count(fields[len(fields)-1], "\n") + 1
		// Two more each way may be numbers along the edges.
		if most = max(most, len(fields)); len(lines) > chart.MaxRows+2 || most > chart.MaxColumns+2 {
			return nil, tooLargeTable(number)
		}
	}
	if len(lines) == 0 {
		return nil, errors.New("the table is empty; it needs one line for each row of the chart")
	}
	for i, line := range lines {
		for at := len(line) + 1; at <= most; at++ {
			lines[i] = append(lines[i], tableCell{line: line[0].line, at: at, missing: true})
		}
	}
	return lines, nil
}

func tooLargeTable(line int) error {
	return fmt.Errorf("line %d: the table is larger than %d columns and %d rows; cut it into parts", line, chart.MaxColumns, chart.MaxRows)
}

// separator is what parts the cells, and the text without a line that says so ("sep=;"). A tab or a comma can stand
// in no unquoted cell of a chart, so where there is one it parts; a semicolon may be a symbol.
func separator(text string) (rune, string) {
	line, _, _ := strings.Cut(text, "\n")
	if told, is := strings.CutPrefix(strings.ToLower(strings.Trim(line, "\r\"")), "sep="); is && len(told) == 1 && strings.Contains(",;\t|", told) {
		return rune(told[0]), text[len(line):]
	}
	var bare strings.Builder // what is outside of quotes
	for i, part := range strings.Split(text, `"`) {
		if i%2 == 0 {
			bare.WriteString(part)
		}
	}
	for _, mark := range "\t,;" {
		if strings.ContainsRune(bare.String(), mark) {
			return mark, text
		}
	}
	return ',', text
}

func tableFault(fault *csv.ParseError) error {
	if errors.Is(fault, csv.ErrQuote) && fault.Line > fault.StartLine {
		return fmt.Errorf("line %d: a quoted cell is not closed; add the missing quotation mark", fault.StartLine)
	}
	return fmt.Errorf("line %d, character %d: a quotation mark stands where none can; quote the whole cell and double the mark", fault.Line, fault.Column)
}

// Knitters number rows and columns along a chart's edges, all of them or every second or fifth. A line of cells along
// an edge is left out when it holds whole numbers and blanks only and the numbers count its cells, up or down by one
// a cell; in the corners of a line without blanks may stand what the numbers are. No stitch can be meant: a digit is
// no symbol, and a color has six digits.

func withoutNumbers(cells [][]tableCell, report *Report) [][]tableCell {
	cells = edgesOff(cells, func(c tableCell, up bool) {
		report.note("column numbers left out: line %d%s", c.line, from(up, "the left"))
	})
	return transposed(edgesOff(transposed(cells), func(c tableCell, up bool) {
		report.note("row numbers left out: cell %d of each line%s", c.at, from(up, "the top"))
	}))
}

// edgesOff leaves out the last and the first line where they are numbers, and tells the first cell of each and the way.
func edgesOff(lines [][]tableCell, tell func(first tableCell, up bool)) [][]tableCell {
	lines = slices.Clone(lines)
	for range 2 {
		slices.Reverse(lines)
		if len(lines) == 0 {
			break
		}
		if step := counts(lines[0]); step != 0 {
			tell(lines[0][0], step > 0)
			lines = lines[1:]
		}
	}
	return lines
}

func from(other bool, edge string) string {
	if !other {
		return ""
	}
	return ", which counts from " + edge + "; the chart counts from the right and from the bottom all the same"
}

func transposed(lines [][]tableCell) [][]tableCell {
	if len(lines) == 0 {
		return nil
	}
	columns := make([][]tableCell, len(lines[0]))
	for _, line := range lines {
		for i, c := range line {
			columns[i] = append(columns[i], c)
		}
	}
	return columns
}

// counts is 1 where the cells are numbers that go up, -1 where they go down, and 0 where they are none. A single
// number among blanks goes down, as charts count.
func counts(cells []tableCell) int {
	blank := func(c tableCell) bool { return c.text == "" }
	if step := countsAll(cells); step != 0 || len(cells) < 4 || slices.ContainsFunc(cells[1:len(cells)-1], blank) {
		return step
	}
	return countsAll(cells[1 : len(cells)-1])
}

func countsAll(cells []tableCell) int {
	up, down := map[int]bool{}, map[int]bool{} // where the first cell would count from, either way
	for i, c := range cells {
		if c.text == "" {
			continue
		}
		n, err := strconv.ParseUint(c.text, 10, 16)
		if err != nil || len(c.text) > 4 {
			return 0
		}
		up[int(n)-i], down[int(n)+i] = true, true
	}
	switch {
	case len(down) == 1 && (len(up) > 1 || len(cells) > 2):
		return -1
	case len(up) == 1 && len(down) > 1:
		return 1
	}
	return 0
}
