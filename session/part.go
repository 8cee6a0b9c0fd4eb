package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

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

	Adds   int       // stitches the last of the plain rows adds, evenly spread; below 0 it takes some
	Steek  int       // stitches of a steek, which has neither chart nor rows of its own; 0 for none
	Beside []PartRef // the blocks beside it, each worked after the one before in a right-side row
}

// Blocks lists what stands side by side: the part itself and what is beside it.
func (p PartRef) Blocks() []PartRef { return append([]PartRef{p}, p.Beside...) }

// Title is what the part is called: the names of its blocks.
func (p PartRef) Title() string {
	names := []string{}
	for _, b := range p.Blocks() {
		names = append(names, b.Name)
	}
	return strings.Join(names, " + ")
}

// AllBlocks lists the blocks of parts one after the other.
func AllBlocks(parts []PartRef) []PartRef {
	var all []PartRef
	for _, p := range parts {
		all = append(all, p.Blocks()...)
	}
	return all
}

// Charted lists those blocks of parts that have a chart.
func Charted(parts []PartRef) []PartRef {
	return slices.DeleteFunc(AllBlocks(parts), func(p PartRef) bool { return !p.HasChart() })
}

// Turned is the part turned left to right: its blocks the other way round, and each chart changed.
func (p PartRef) Turned(chart func(*PartRef)) PartRef {
	blocks := p.Blocks()
	for i := range blocks {
		blocks[i].Beside = nil
		if blocks[i].HasChart() {
			chart(&blocks[i])
		}
	}
	slices.Reverse(blocks)
	if len(blocks) > 1 {
		blocks[0].Beside = blocks[1:]
	}
	return blocks[0]
}

// PartsNamed lists the parts an event names: those of a cast-on or of a new plan.
func PartsNamed(e Event) []PartRef {
	switch e := e.(type) {
	case *CastOn:
		return e.Parts
	case *Replanned:
		return e.Parts
	}
	return nil
}

// HasChart reports whether the part itself is a chart: neither plain rows nor a steek.
func (p PartRef) HasChart() bool { return !p.IsPlain() && p.Steek == 0 }

// IsPlain reports whether the part is plain rows.
func (p PartRef) IsPlain() bool { return p.Plain != 0 }

// joined are parts with their charts, as they are laid; an error is that of charts.
func joined(parts []PartRef, charts Charts) (all []floats.Part, err error) {
	for _, p := range parts {
		part := floats.Part{
			Name: p.Name, Repeats: max(1, p.Repeats), Times: max(1, p.Times),
			Plain: p.Plain, Rows: p.Rows, Adds: p.Adds, Steek: p.Steek,
		}
		if p.HasChart() {
			if part.Chart, err = charts(p.Hash); err != nil {
				return nil, fmt.Errorf("part %s: %w", p.Name, err)
			}
		}
		if part.Beside, err = joined(p.Beside, charts); err != nil {
			return nil, err
		}
		all = append(all, part)
	}
	return all, nil
}

// CheckSize is floats.CheckSize of parts with their charts, or an error of charts.
func CheckSize(parts []PartRef, charts Charts) error {
	sized, err := joined(parts, charts)
	if err != nil {
		return err
	}
	return floats.CheckSize(sized)
}

// maxRows is the most rows a piece may have, and the most repeats side by side: small enough to add up.
const maxRows = 1_000_000

// partSize is the fewest bytes a part takes.
const partSize = 1 + 32 + 4

// parts takes parts; blocks tells whether any has blocks, a steek or a last row that is shaped.
func (w *wire) parts(parts *[]PartRef, blocks bool) {
	if w.blocks(parts, blocks, 0); blocks && !partsHaveBlocks(*parts) {
		w.fail("parts without blocks where some are said to have them")
	}
}

// blocks takes parts with their blocks, those within blocks, which there are not, one level deep.
func (w *wire) blocks(parts *[]PartRef, blocks bool, deep int) {
	list(w, parts, partSize, func(p *PartRef) {
		if deep > 1 {
			w.fail("blocks within a block")
			return
		}
		w.text(&p.Name)
		w.hash(&p.Hash)
		w.int(&p.Repeats)
		w.int(&p.Times)
		w.symbol(&p.Plain)
		if w.int(&p.Rows); !blocks {
			return
		}
		more, fewer := max(p.Adds, 0), max(-p.Adds, 0)
		w.int(&more)
		if w.int(&fewer); more > 0 && fewer > 0 {
			w.fail("stitches added and taken in one row")
		}
		if !w.writing {
			p.Adds = more - fewer
		}
		w.int(&p.Steek)
		w.blocks(&p.Beside, blocks, deep+1)
	})
}

// How many stitches a steek and how many blocks a part may have: at most far past any knitting.
const (
	LeastSteek = 3
	MostSteek  = 99
	mostBlocks = 99
)

// check holds a block by itself.
func (p PartRef) check() error {
	lowest, most := 1, maxRows
	switch {
	case p.Steek != 0:
		return cmp.Or(checkLine("part name", p.Name), checkBetween("stitches of "+p.Name, p.Steek, LeastSteek, MostSteek))
	case p.IsPlain():
		lowest, most = 0, 1
		if err := checkSymbol("plain rows", p.Plain); err != nil {
			return err
		}
		if p.Hash != [32]byte{} {
			return &FieldError{"part " + p.Name, "a chart and plain rows in one", "one of them"}
		}
	case p.Adds != 0:
		return &FieldError{"part " + p.Name, "a chart whose last row adds or takes stitches", "plain rows"}
	}
	return cmp.Or(
		checkLine("part name", p.Name),
		checkBetween("repeats of "+p.Name, p.Repeats, lowest, most),
		checkBetween("times of "+p.Name, p.Times, lowest, most),
		checkBetween("rows of "+p.Name, p.Rows, 1, maxRows),
		checkBetween("stitches added in "+p.Name, p.Adds, -maxRows, maxRows),
	)
}

// checkParts holds a piece to at least one part and at most maxRows rows.
func checkParts(parts []PartRef) error {
	if len(parts) == 0 {
		return &FieldError{"parts", "none", "at least one chart"}
	}
	for _, p := range parts {
		err := cmp.Or(p.check(), checkBetween("blocks of "+p.Name, len(p.Beside), 0, mostBlocks))
		for _, b := range p.Beside {
			err = cmp.Or(err, b.check())
		}
		if err != nil {
			return err
		}
	}
	if i := slices.IndexFunc(parts, func(p PartRef) bool { return totalRows([]PartRef{p}) == 0 }); i >= 0 {
		return &FieldError{"part " + parts[i].Title(), "no chart", "a chart beside the steek: FILE@8 + steek:5"}
	}
	return checkBetween("rows in all", totalRows(parts), 1, maxRows)
}

// totalRows adds up the rows of valid parts, up to one past maxRows.
func totalRows(parts []PartRef) int {
	rows := int64(0)
	for _, p := range parts {
		most := int64(0) // a steek has none of its own
		for _, b := range p.Blocks() {
			most = max(most, int64(b.Rows)*int64(max(1, b.Times)))
		}
		rows = min(rows+most, maxRows+1)
	}
	return int(rows)
}

// partsHaveBlocks reports whether parts take the newer kinds of event: one is more than a chart or plain rows.
func partsHaveBlocks(parts []PartRef) bool {
	return slices.ContainsFunc(parts, func(p PartRef) bool { return p.Adds != 0 || p.Steek != 0 || len(p.Beside) > 0 })
}
