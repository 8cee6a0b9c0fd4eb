package picture

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Knitters number the rows and columns of a chart along its edges, all of them or every
// second or fifth. A line of cells along an edge is left out as numbers when it holds
// whole numbers and blanks only and the numbers count its cells, up or down by one a cell.
// No stitch can be meant: a digit is no symbol, and a color has six digits.

// withoutNumbers leaves out the records and the cells of numbers along the four edges, and
// notes which.
func withoutNumbers(records []record, report *Report) []record {
	note := func(format string, args ...any) { report.Notes = append(report.Notes, fmt.Sprintf(format, args...)) }
	for _, last := range []bool{true, false} {
		if len(records) == 0 {
			return nil
		}
		at := 0
		if last {
			at = len(records) - 1
		}
		if step := countsRecord(records[at].cells); step != 0 {
			note("column numbers left out: line %d%s", records[at].line, from(step > 0, "the left"))
			records = slices.Delete(records, at, at+1)
		}
	}
	for _, last := range []bool{true, false} {
		if len(records) == 0 || len(records[0].cells) == 0 {
			return nil
		}
		at := 0
		if last {
			at = len(records[0].cells) - 1
		}
		if step := countsCells(column(records, at)); step != 0 {
			note("row numbers left out: cell %d of each line%s", records[0].first+at, from(step > 0, "the top"))
			dropColumn(records, last)
		}
	}
	if len(records) == 0 || len(records[0].cells) == 0 {
		return nil
	}
	return records
}

// from warns of numbers that count the other way round than a chart does.
func from(other bool, edge string) string {
	if !other {
		return ""
	}
	return ", which counts from " + edge + "; the chart counts from the right and from the bottom all the same"
}

func column(records []record, at int) []string {
	cells := make([]string, len(records))
	for i, r := range records {
		cells[i] = r.cells[at]
	}
	return cells
}

func dropColumn(records []record, last bool) {
	for i := range records {
		r := &records[i]
		if last {
			r.cells = r.cells[:len(r.cells)-1]
			r.missing = max(r.missing-1, 0)
			continue
		}
		r.cells, r.first = r.cells[1:], r.first+1
		r.missing = min(r.missing, len(r.cells))
	}
}

// countsRecord is countsCells for a line, in whose corners may stand what the numbers are.
func countsRecord(cells []string) int {
	if step := countsCells(cells); step != 0 || len(cells) < 4 {
		return step
	}
	inner := cells[1 : len(cells)-1]
	if slices.ContainsFunc(inner, func(text string) bool { return strings.TrimSpace(text) == "" }) {
		return 0
	}
	return countsCells(inner)
}

// countsCells is 1 where the cells are numbers that go up with each cell, -1 where they go
// down, and 0 where they are none. A single number among blanks goes down: it counts as
// charts do.
func countsCells(cells []string) int {
	step, at, before := 0, -1, 0
	for i, text := range cells {
		text = strings.TrimSpace(text)
		if text == "" {
			continue
		}
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n > 9999 || strings.ContainsAny(text[:1], "+-") || len(text) > 4 {
			return 0
		}
		if at >= 0 {
			d := n - before
			if d != i-at && d != at-i || step != 0 && d != step*(i-at) {
				return 0
			}
			step = d / (i - at)
		}
		at, before = i, n
	}
	if at >= 0 && step == 0 && len(cells) > 2 {
		return -1
	}
	return step
}
