package session

import (
	"strandwise/chart"
	"strandwise/floats"
)

// PartRef is one part of a piece, worked before those that follow it: a chart, told
// by the SHA-256 of the bytes it was read from, or plain rows of one yarn.
type PartRef struct {
	Name    string   // what the row sheet calls it
	Hash    [32]byte // of the chart; all zero for plain rows
	Repeats int      // copies of the chart side by side, from 1; 0 or 1 for plain rows
	Times   int      // copies of the chart upward, from 1; 0 or 1 for plain rows
	Plain   rune     // symbol of the yarn of plain rows; 0 for a chart
	Rows    int      // rows of one copy: the chart's height, or how many plain rows
}

// IsPlain reports whether the part is plain rows.
func (p PartRef) IsPlain() bool { return p.Plain != 0 }

// Part joins the reference to its chart, nil for plain rows.
func (p PartRef) Part(c *chart.Chart) floats.Part {
	return floats.Part{
		Name: p.Name, Chart: c, Repeats: max(1, p.Repeats), Times: max(1, p.Times),
		Plain: p.Plain, Rows: p.Rows,
	}
}

// maxRows is the most rows a piece may have, and the most repeats side by side:
// far past any knitting, and small enough to add up.
const maxRows = 1_000_000

// partSize is the fewest bytes a part takes.
const partSize = 1 + 32 + 4

func appendParts(b []byte, parts []PartRef) []byte {
	b = appendInt(b, len(parts))
	for _, p := range parts {
		b = append(appendText(b, p.Name), p.Hash[:]...)
		b = appendInt(appendInt(b, p.Repeats), p.Times)
		b = appendInt(appendSymbol(b, p.Plain), p.Rows)
	}
	return b
}

func (r *reader) parts() []PartRef {
	n := r.count(partSize)
	if n == 0 {
		return nil
	}
	parts := make([]PartRef, n)
	for i := range parts {
		parts[i] = PartRef{
			Name: r.text(), Hash: r.hash(), Repeats: r.int(), Times: r.int(),
			Plain: r.symbol(), Rows: r.int(),
		}
	}
	return parts
}

func (p PartRef) check() error {
	lowest, most := 1, maxRows
	if p.IsPlain() {
		lowest, most = 0, 1
		if err := checkSymbol("plain rows", p.Plain); err != nil {
			return err
		}
		if p.Hash != [32]byte{} {
			return &FieldError{"part " + p.Name, "a chart and plain rows in one", "one of them"}
		}
	}
	return firstError(
		checkLine("part name", p.Name),
		checkBetween("repeats of "+p.Name, p.Repeats, lowest, most),
		checkBetween("times of "+p.Name, p.Times, lowest, most),
		checkBetween("rows of "+p.Name, p.Rows, 1, maxRows),
	)
}

// checkParts holds a piece to at least one part and at most maxRows rows.
func checkParts(parts []PartRef) error {
	if len(parts) == 0 {
		return &FieldError{"parts", "none", "at least one chart"}
	}
	for _, p := range parts {
		if err := p.check(); err != nil {
			return err
		}
	}
	return checkBetween("rows in all", totalRows(parts), 1, maxRows)
}

// totalRows adds up the rows of valid parts, up to one past maxRows.
func totalRows(parts []PartRef) int {
	rows := int64(0)
	for _, p := range parts {
		rows = min(rows+int64(p.Rows)*int64(max(1, p.Times)), maxRows+1)
	}
	return int(rows)
}
