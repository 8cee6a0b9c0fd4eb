package picture

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	codes "unicode/utf16"
	"unicode/utf8"

	"strandwise/chart"
)

// record is one line of a table.
type record struct {
	line    int // of the file, from 1
	first   int // number of the first of the cells in its line, from 1
	cells   []string
	missing int // cells at the end that the file does not have; they are blank
}

// tableText is the text of a table: UTF-8, or UTF-16 with a byte order mark or, as text in
// the Latin alphabet shows, without.
func tableText(data []byte) (string, error) {
	if len(data) > chart.MaxBytes {
		return "", fmt.Errorf("the table has %d bytes, more than %d; is this the right file?", len(data), chart.MaxBytes)
	}
	if order := utf16Order(data); order != nil {
		return fromUTF16(data, order)
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	line, character := 1, 0
	for rest := data; len(rest) > 0; {
		r, size := utf8.DecodeRune(rest)
		if r == utf8.RuneError && size == 1 {
			return "", fmt.Errorf("line %d, character %d: the byte %02X is not UTF-8 text; save the table as CSV in UTF-8", line, character+1, rest[0])
		}
		if character++; r == '\n' {
			line, character = line+1, 0
		}
		rest = rest[size:]
	}
	return lineEnds(string(data)), nil
}

// utf16Order is the byte order of UTF-16 text, nil for any other.
func utf16Order(data []byte) binary.ByteOrder {
	if len(data) < 2 {
		return nil
	}
	switch {
	case data[0] == 0xFF && data[1] == 0xFE || data[0] != 0 && data[1] == 0:
		return binary.LittleEndian
	case data[0] == 0xFE && data[1] == 0xFF || data[0] == 0 && data[1] != 0:
		return binary.BigEndian
	}
	return nil
}

func fromUTF16(data []byte, order binary.ByteOrder) (string, error) {
	if len(data)%2 != 0 {
		return "", errors.New("the table is UTF-16 text that ends within a character; save it as CSV in UTF-8")
	}
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	return lineEnds(strings.TrimPrefix(string(codes.Decode(units)), "\uFEFF")), nil
}

// lineEnds makes LF of the line ends of a text that has CR only.
func lineEnds(text string) string {
	if strings.Contains(text, "\n") {
		return text
	}
	return strings.ReplaceAll(text, "\r", "\n")
}

// readRecords parts the text into records of the same number of cells. A blank line between
// two records is a record without cells: the standard library's reader passes it over, a
// spreadsheet means a row.
func readRecords(text string) ([]record, error) {
	mark, text := separator(text)
	reader := csv.NewReader(strings.NewReader(text))
	reader.FieldsPerRecord, reader.Comma = -1, mark
	var records []record
	next := 0 // line after the last record
	for {
		cells, err := reader.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, tableFault(err)
		}
		line, _ := reader.FieldPos(0)
		for ; len(records) > 0 && next < line && len(records) <= chart.MaxRows; next++ {
			records = append(records, record{line: next, first: 1})
		}
		records = append(records, record{line: line, first: 1, cells: cells})
		last, _ := reader.FieldPos(len(cells) - 1)
		next = last + strings.Count(cells[len(cells)-1], "\n") + 1
		// Two more each way may be numbers along the edges.
		if len(records) > chart.MaxRows+2 || len(cells) > chart.MaxColumns+2 {
			return nil, tooLargeTable(line)
		}
	}
	if len(records) == 0 {
		return nil, errors.New("the table is empty; it needs one line for each row of the chart")
	}
	return padded(records), nil
}

func tooLargeTable(line int) error {
	return fmt.Errorf("line %d: the table is larger than %d columns and %d rows; cut it into parts", line, chart.MaxColumns, chart.MaxRows)
}

// separator is what parts the cells, and the text without a line that says so ("sep=;").
// A tab or a comma can stand in no unquoted cell of a chart, so where there is one it parts;
// a semicolon may be a symbol.
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

// tableFault says in our words what the reader of the standard library met.
func tableFault(err error) error {
	var fault *csv.ParseError
	if !errors.As(err, &fault) {
		return fmt.Errorf("the table cannot be read (%w); export it again", err)
	}
	if errors.Is(fault.Err, csv.ErrQuote) && fault.Line > fault.StartLine {
		return fmt.Errorf("line %d: a quoted cell is not closed; add the missing quotation mark", fault.StartLine)
	}
	return fmt.Errorf("line %d, character %d: a quotation mark stands where none can; quote the whole cell and double the mark", fault.Line, fault.Column)
}

// padded gives all records as many cells as the longest has.
func padded(records []record) []record {
	most := 0
	for _, r := range records {
		most = max(most, len(r.cells))
	}
	for i := range records {
		r := &records[i]
		r.missing = most - len(r.cells)
		r.cells = append(r.cells, make([]string, r.missing)...)
	}
	return records
}

// checkSize holds that the records make a chart: not too many, and all of one length, unless
// it is known what a cell that is missing stands for.
func checkSize(records []record, blankKnown bool) error {
	whole := records[0]
	for _, r := range records {
		if r.missing == 0 {
			whole = r
			break
		}
	}
	for i, r := range records {
		if i == chart.MaxRows || len(r.cells) > chart.MaxColumns {
			return tooLargeTable(r.line)
		}
		if r.missing > 0 && !blankKnown {
			return fmt.Errorf("line %d has %s, line %d has %d; every row needs the same number of cells, or --blank YARN says what those that are missing are",
				r.line, chart.Counted(len(r.cells)-r.missing, "cell"), whole.line, len(whole.cells))
		}
	}
	return nil
}
