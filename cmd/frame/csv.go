package frame

import (
	"encoding/csv"
	"io"
	"strings"
)

// formulaStarts begin a cell that a spreadsheet would run as a formula. Tab and
// carriage return are among them because some spreadsheets skip them.
const formulaStarts = "=+-@\t\r"

// Table writes records by RFC 4180: lines end in CR LF, cells are quoted where
// they must be. A cell that would be a formula gets an apostrophe in front, by
// which spreadsheets know text.
type Table struct{ w *csv.Writer }

// NewTable starts a table with its header. Errors are kept until close.
func NewTable(w io.Writer, header ...string) *Table {
	t := &Table{csv.NewWriter(w)}
	t.w.UseCRLF = true
	t.Add(header...)
	return t
}

// Add writes one record.
func (t *Table) Add(cells ...string) {
	record := make([]string, len(cells))
	for i, cell := range cells {
		record[i] = harmless(cell)
	}
	_ = t.w.Write(record) // close tells
}

// Close writes what is held back and returns the first error of the table.
func (t *Table) Close() error {
	t.w.Flush()
	return t.w.Error()
}

func harmless(cell string) string {
	if cell != "" && strings.ContainsRune(formulaStarts, rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
