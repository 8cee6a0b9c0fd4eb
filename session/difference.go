package session

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
)

// Difference is how a new plan for the rows to come differs from the one in force.
type Difference struct {
	Rows            []RowChange // rows to come whose catches or stitches are not the same, upward
	Before, After   int         // catches in the rows to come
	RowsIn, RowsNow int         // rows of the whole piece, before and after
	Left, Needed    int         // stitches the last row of the old plan leaves, and the first of the new uses up
}

// RowChange is one row that is not as it was.
type RowChange struct {
	Row   int       // from 1
	Other bool      // the row is worked in other stitches, or is not in both pieces
	Gone  []CatchOf // planned before and no more, in knitting order; of another row all
	Come  []CatchOf // planned now and not before; of another row all
}

// CatchOf is a catch by the symbol of its yarn, which stays when yarns are numbered
// anew. Stitches count in knitting order over the whole row, from 1.
type CatchOf struct {
	Stitch int
	Symbol rune
}

// ComparePlans compares the rows to come of a piece with those of the same piece planned anew: those of
// the row to work next as they are shown above what was made below it.
func ComparePlans(before, after *Piece) Difference {
	d := Difference{RowsIn: before.Rows(), RowsNow: after.Rows()}
	for row := before.State.Row + 1; row <= max(d.RowsIn, d.RowsNow); row++ {
		was, now := before.catchesOf(row), after.catchesOf(row)
		d.Before, d.After = d.Before+len(was), d.After+len(now)
		change := RowChange{Row: row, Gone: was, Come: now, Other: !slices.Equal(before.symbols(row), after.symbols(row))}
		if !change.Other {
			change.Gone, change.Come = without(was, now, compareCatches), without(now, was, compareCatches)
		}
		if change.Other || len(change.Gone)+len(change.Come) > 0 {
			d.Rows = append(d.Rows, change)
		}
	}
	if row := after.State.FirstToPlan() - 1; row > 0 && row < after.Rows() {
		d.Left, d.Needed = after.Row(row).Makes(), after.Row(row+1).Uses()
	}
	return d
}

func compareCatches(a, b CatchOf) int {
	return cmp.Or(cmp.Compare(a.Stitch, b.Stitch), cmp.Compare(a.Symbol, b.Symbol))
}

// catchesOf gives the catches of a row to come, none for a row the piece has not.
func (p *Piece) catchesOf(row int) []CatchOf {
	if row > p.Rows() {
		return nil
	}
	var out []CatchOf
	for _, m := range p.Shown(row) {
		out = append(out, CatchOf{m.Stitch, p.Layout.Fabric.Yarns[m.Yarn].Symbol})
	}
	slices.SortFunc(out, compareCatches)
	return out
}

func (p *Piece) symbols(row int) []rune {
	if row > p.Rows() {
		return nil
	}
	var out []rune
	for _, s := range p.Row(row).All() {
		out = append(out, p.Layout.Fabric.Yarns[s.Yarn].Symbol)
	}
	return out
}

// RowsInWords is what is said alike of several rows.
type RowsInWords struct {
	Rows []int  // from 1, upward
	Text string // "drops oat on 6; adds oat on 4 and 8, fjord on 1 in repeat 3"
}

// InWords tells the difference of the pieces that were compared, rows alike together: which catches go and
// which come, by the stitch of the repeat, in every repeat where none is named.
func (d Difference) InWords(before, after *Piece) []RowsInWords {
	var all []RowsInWords
	at := map[string]int{}
	for _, c := range d.Rows {
		text := c.inWords(before, after)
		i, known := at[text]
		if !known {
			i, at[text] = len(all), len(all)
			all = append(all, RowsInWords{Text: text})
		}
		all[i].Rows = append(all[i].Rows, c.Row)
	}
	return all
}

func (c RowChange) inWords(before, after *Piece) string {
	switch {
	case c.Row > after.Rows():
		return "no longer in the piece"
	case c.Row > before.Rows():
		return "new; " + after.caught(c)
	case c.Other:
		return "other stitches; " + after.caught(c)
	}
	var words []string
	if len(c.Gone) > 0 {
		words = append(words, "drops "+after.folded(c.Row, c.Gone))
	}
	if len(c.Come) > 0 {
		words = append(words, "adds "+after.folded(c.Row, c.Come))
	}
	return strings.Join(words, "; ")
}

func (p *Piece) caught(c RowChange) string {
	if len(c.Come) == 0 {
		return "no catches"
	}
	return "catches " + p.folded(c.Row, c.Come)
}

// folded lists catches of a row by yarn, those of the same repeats together: "oat on
// 4 and 8, fjord on 1 in repeat 3". Where no repeat is named every one is meant.
func (p *Piece) folded(row int, catches []CatchOf) string {
	r := p.Row(row)
	on := "on"
	if p.State.Setup.FloatMethod() == floats.Twist {
		on = "before"
	}
	repeats := map[CatchOf][]floats.Place{} // in which a stitch of the pattern has the catch
	for _, c := range catches {
		here := CatchOf{r.InPattern(c.Stitch), c.Symbol}
		repeats[here] = append(repeats[here], r.PlaceOf(c.Stitch))
	}
	type alike struct {
		symbol rune
		in     string
	}
	var order []alike
	stitches := map[alike][]string{}
	for _, c := range slices.SortedFunc(maps.Keys(repeats), compareCatches) {
		key := alike{symbol: c.Symbol}
		if len(repeats[c]) < r.Repeats() {
			key.in = " " + inRepeats(r.Course, repeats[c])
		}
		if stitches[key] == nil {
			order = append(order, key)
		}
		stitches[key] = append(stitches[key], fmt.Sprint(repeats[c][0].Stitch))
	}
	var words []string
	for _, key := range order {
		words = append(words, fmt.Sprintf("%s %s %s%s", p.nameOf(key.symbol), on, Listed(stitches[key], "and"), key.in))
	}
	return strings.Join(words, ", ")
}

func (p *Piece) nameOf(symbol rune) string {
	if yarn := p.Layout.Fabric.Yarn(symbol); yarn != chart.NoYarn {
		return p.yarnName(yarn)
	}
	return string(symbol)
}
