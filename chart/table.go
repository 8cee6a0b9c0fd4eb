package chart

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// TableOptions says what is known about a table.
type TableOptions struct {
	Title string // title of the chart, may be empty
	Yarns []Yarn // the yarns its symbols stand for; nil when not known
}

// ImportCSV reads a table (RFC 4180: cells parted by commas, quoted where needed; semicolons
// and tabs are read too)
// as a chart: one record a row, the first record the top row, the first cell the
// leftmost column. All cells with a stitch hold either a symbol as in a chart file
// or a color as #RRGGBB; a cell that is blank or holds _ is an empty cell.
// Symbols that the options name no yarn for get made-up colors, as the report
// says; colors get plain names. Lines may end in LF or CRLF, a byte order mark is
// passed over. The error is one line with the line and cell, both from 1, where
// there is one.
func ImportCSV(data []byte, options TableOptions) (*Chart, *Report, error) {
	records, err := readTable(data)
	if err != nil {
		return nil, nil, err
	}
	t := table{yarns: options.Yarns}
	if err := t.read(records); err != nil {
		return nil, nil, err
	}
	report := &Report{Format: "CSV", Columns: len(records[0].cells), Rows: len(records)}
	c, err := t.chart(report)
	if err != nil {
		return nil, nil, err
	}
	c.Title = options.Title
	c.Comments = []string{fmt.Sprintf(" From a table of %d columns and %d rows.", report.Columns, report.Rows)}
	if err := c.Validate(); err != nil {
		return nil, nil, err
	}
	return c, report, nil
}

// record is one line of a table.
type record struct {
	line  int
	cells []string
}

func readTable(data []byte) ([]record, error) {
	switch {
	case len(data) > MaxBytes:
		return nil, fmt.Errorf("the table has %d bytes, more than %d; is this the right file?", len(data), MaxBytes)
	case utf16(data):
		return nil, errors.New("the table is UTF-16 text; save it as UTF-8")
	case !utf8.Valid(data):
		return nil, errors.New("the table is not UTF-8 text; save it as CSV in UTF-8")
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	reader := csv.NewReader(bytes.NewReader(data))
	reader.FieldsPerRecord = -1
	reader.Comma = separator(data)
	var records []record
	for {
		cells, err := reader.Read()
		if errors.Is(err, io.EOF) {
			return evenRecords(records)
		}
		if err != nil {
			return nil, tableFault(err)
		}
		line, _ := reader.FieldPos(0)
		records = append(records, record{line, cells})
		if len(records) > MaxRows || len(cells) > MaxColumns {
			return nil, fmt.Errorf("line %d: the table is larger than %d columns and %d rows; cut it into parts", line, MaxColumns, MaxRows)
		}
	}
}

// separator is what parts the cells: a comma, else a semicolon or a tab where the first line
// has one and no comma.
func separator(data []byte) rune {
	first, _, _ := bytes.Cut(data, []byte("\n"))
	for _, mark := range ",;\t" {
		if bytes.ContainsRune(first, mark) {
			return mark
		}
	}
	return ','
}

// tableFault says in our words what the reader of the standard library met.
func tableFault(err error) error {
	var fault *csv.ParseError
	if !errors.As(err, &fault) {
		return fmt.Errorf("the table cannot be read (%w); export it again", err)
	}
	if errors.Is(fault.Err, csv.ErrQuote) && fault.Line > fault.StartLine {
		return fmt.Errorf("line %d: a quoted cell is not closed; add the missing quotation mark", fault.StartLine)
	}
	return fmt.Errorf("line %d: a quotation mark stands where none can; quote the whole cell and double the mark", fault.Line)
}

// evenRecords holds that all records have as many cells.
func evenRecords(records []record) ([]record, error) {
	if len(records) == 0 {
		return nil, errors.New("the table is empty; it needs one line for each row of the chart")
	}
	for _, r := range records[1:] {
		if want := len(records[0].cells); len(r.cells) != want {
			return nil, fmt.Errorf("line %d has %s, line %d has %d; every row needs the same number of cells",
				r.line, cellCount(len(r.cells)), records[0].line, want)
		}
	}
	return records, nil
}

// table is what the cells hold, from the top and from the left: symbols or
// colors, never both.
type table struct {
	yarns   []Yarn
	symbols [][]rune // 0 for an empty cell
	colors  [][]colorCell
	holds   string // "symbols", "colors" or, as long as all cells are empty, ""
}

func (t *table) read(records []record) error {
	for _, r := range records {
		symbols, colors := make([]rune, len(r.cells)), make([]colorCell, len(r.cells))
		for i, text := range r.cells {
			var err error
			if symbols[i], colors[i], err = t.cell(strings.TrimSpace(text)); err != nil {
				return fmt.Errorf("line %d, cell %d: %w", r.line, i+1, err)
			}
		}
		t.symbols, t.colors = append(t.symbols, symbols), append(t.colors, colors)
	}
	return nil
}

func (t *table) cell(text string) (rune, colorCell, error) {
	if text == "" || text == string(emptySymbol) {
		return 0, colorCell{empty: true}, nil
	}
	if strings.HasPrefix(text, "#") {
		c, err := ParseColor(text)
		if err != nil {
			return 0, colorCell{}, err
		}
		return 0, colorCell{color: c}, t.hold("colors")
	}
	r, size := utf8.DecodeRuneInString(text)
	if len(text) > size {
		if strings.ContainsRune("=+-@", r) {
			return 0, colorCell{}, fmt.Errorf("%s is a formula; save the table with values only", short(text))
		}
		return 0, colorCell{}, fmt.Errorf("%s is neither one symbol nor a color as #RRGGBB", short(text))
	}
	if err := CheckSymbol(r); err != nil {
		return 0, colorCell{}, fmt.Errorf("%w: %s", err, symbolRule)
	}
	return r, colorCell{empty: true}, t.hold("symbols")
}

func (t *table) hold(what string) error {
	if t.holds != "" && t.holds != what {
		return errors.New("symbols and colors are mixed in the table; use one of the two")
	}
	t.holds = what
	return nil
}

// short quotes a cell for an error, cut when it is long.
func short(text string) string {
	if r := []rune(text); len(r) > 20 {
		text = string(r[:20]) + "..."
	}
	return fmt.Sprintf("%q", printable(text))
}

func (t *table) chart(report *Report) (*Chart, error) {
	if t.holds == "symbols" {
		return t.ofSymbols(report)
	}
	shades := countShades(t.colors)
	if len(shades) > MaxImportYarns {
		return nil, fmt.Errorf("the table has %d colors; a chart from a table has at most %d", len(shades), MaxImportYarns)
	}
	return chartOf(t.colors, gathering{yarns: max(len(shades), 1), exact: true}, report)
}

// ofSymbols reads the symbols as colors, one for each, and then gives them back
// their own symbols and yarns.
func (t *table) ofSymbols(report *Report) (*Chart, error) {
	order := t.distinct()
	if len(order) > len(madeUp) {
		return nil, fmt.Errorf("the table has %d different symbols; a chart from a table has at most %d yarns", len(order), len(madeUp))
	}
	for i, row := range t.symbols {
		for j, symbol := range row {
			if symbol != 0 {
				t.colors[i][j] = colorCell{color: madeUp[slices.Index(order, symbol)]}
			}
		}
	}
	c, err := chartOf(t.colors, gathering{yarns: len(order), exact: true}, report)
	if err != nil {
		return nil, err
	}
	t.rename(c, order, report)
	return c, nil
}

// distinct lists the symbols from the top and the left.
func (t *table) distinct() []rune {
	var order []rune
	seen := map[rune]bool{0: true}
	for _, row := range t.symbols {
		for _, symbol := range row {
			if !seen[symbol] {
				seen[symbol] = true
				order = append(order, symbol)
			}
		}
	}
	return order
}

// rename puts the table's symbols in place of the import's, and the known yarns
// in place of the made-up ones.
func (t *table) rename(c *Chart, order []rune, report *Report) {
	by := map[rune]rune{}
	invented := 0
	for i, y := range c.Yarns {
		symbol := order[slices.Index(madeUp, y.Color)]
		by[y.Symbol], c.Yarns[i].Symbol = symbol, symbol
		if known := slices.IndexFunc(t.yarns, func(y Yarn) bool { return y.Symbol == symbol }); known >= 0 {
			c.Yarns[i] = t.yarns[known]
		} else {
			c.Yarns[i].Name = t.freeName(y.Name)
			invented++
		}
	}
	c.exchange(by)
	if invented > 0 {
		report.Notes = append(report.Notes, fmt.Sprintf("names and colors of %d yarns are made up; write the right ones into the chart file", invented))
	}
}

// freeName is the name, or one like it that no known yarn has.
func (t *table) freeName(name string) string {
	for slices.ContainsFunc(t.yarns, func(y Yarn) bool { return strings.EqualFold(y.Name, name) }) {
		name += " b"
	}
	return name
}

// madeUp are colors for symbols nothing is known about, clearly apart from one
// another, the first for the symbol met first.
var madeUp = []Color{
	{0xF2, 0xEA, 0xD8},
	{0x1E, 0x3F, 0x66},
	{0xB0, 0x3A, 0x2E},
	{0x4F, 0x7A, 0x4A},
	{0xE0, 0xA5, 0x2B},
	{0x7A, 0x4E, 0x8A},
	{0x8A, 0x8D, 0x90},
	{0x5B, 0xB5, 0xB0},
	{0x6B, 0x47, 0x2B},
	{0xE8, 0x8F, 0xA8},
	{0x2B, 0x2B, 0x2E},
	{0x6F, 0x9F, 0xD8},
	{0xB9, 0xC9, 0x6A},
	{0xD0, 0x6A, 0x2C},
	{0x1F, 0x5E, 0x4C},
	{0xC7, 0xB2, 0xDE},
}
