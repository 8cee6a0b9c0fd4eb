package cmd

import (
	"encoding/csv"
	"io"
	"strings"
)

// formulaStarts begin a cell that a spreadsheet would run as a formula. Tab and
// carriage return are among them because some spreadsheets skip them.
const formulaStarts = "=+-@\t\r"

// table writes records by RFC 4180: lines end in CR LF, cells are quoted where
// they must be. A cell that would be a formula gets an apostrophe in front, by
// which spreadsheets know text.
type table struct{ w *csv.Writer }

// newTable starts a table with its header. Errors are kept until close.
func newTable(w io.Writer, header ...string) *table {
	t := &table{csv.NewWriter(w)}
	t.w.UseCRLF = true
	t.add(header...)
	return t
}

// add writes one record.
func (t *table) add(cells ...string) {
	record := make([]string, len(cells))
	for i, cell := range cells {
		record[i] = harmless(cell)
	}
	_ = t.w.Write(record) // close tells
}

// close writes what is held back and returns the first error of the table.
func (t *table) close() error {
	t.w.Flush()
	return t.w.Error()
}

func harmless(cell string) string {
	if cell != "" && strings.ContainsRune(formulaStarts, rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
