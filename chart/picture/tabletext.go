package picture

import (
	"encoding/binary"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"strandwise/chart"
)

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
		for i := range units {
			units[i] = order.Uint16(data[2*i:])
		}
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
func readCells(text string) ([][]tableCell, error) {
	mark, text := separator(text)
	reader := csv.NewReader(strings.NewReader(text))
	reader.FieldsPerRecord, reader.Comma = -1, mark
	var lines [][]tableCell
	most, next := 0, 0 // cells of the longest line; the line behind the last
	for {
		fields, err := reader.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, tableFault(err)
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
