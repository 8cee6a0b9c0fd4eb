package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
)

// Difference is how a new plan for the rows to come differs from the one in force.
type Difference struct {
	RowsIn  int         `json:"-"`    // rows of the whole piece before
	RowsNow int         `json:"rows"` // of the whole piece now
	Changed []int       `json:"changed"`
	Rows    []RowChange `json:"differences"`    // one for each row changed
	Before  int         `json:"catches_before"` // in the rows to come
	After   int         `json:"catches_after"`
	Left    int         `json:"stitches_left"` // by the last finished row; 0 when none is finished or to come
	Needed  int         `json:"stitches_used"` // by the first row to come
}

// RowChange is what goes and what comes in a row that is not as it was. Other says that the row is worked in other
// stitches or is not in both pieces: then all its catches go and come.
type RowChange struct {
	Row   int           `json:"row"`
	Other bool          `json:"other_stitches"`
	Gone  []PlacedCatch `json:"gone"`
	Come  []PlacedCatch `json:"come"`
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
			d.Changed, d.Rows = append(d.Changed, row), append(d.Rows, change)
		}
	}
	if row := after.State.FirstToPlan() - 1; row > 0 && row < after.Rows() {
		d.Left, d.Needed = after.Row(row).Makes(), after.Row(row+1).Uses()
	}
	return d
}

// compareCatches tells yarns by their symbols, which stay when yarns are numbered anew.
func compareCatches(a, b PlacedCatch) int {
	return cmp.Or(cmp.Compare(a.inRow, b.inRow), cmp.Compare(a.Yarn.Symbol, b.Yarn.Symbol))
}

// catchesOf gives the catches of a row to come, none for a row the piece has not.
func (p *Piece) catchesOf(row int) []PlacedCatch {
	if row > p.Rows() {
		return nil
	}
	catches := mapped(p.Shown(row), func(m Mark) PlacedCatch { return p.catchAt(row, m) })
	slices.SortFunc(catches, compareCatches)
	return catches
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
	words := func(c RowChange) string { return c.inWords(before, after) }
	return mapped(Gathered(d.Rows, words), func(alike []RowChange) RowsInWords {
		return RowsInWords{mapped(alike, func(c RowChange) int { return c.Row }), words(alike[0])}
	})
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
func (p *Piece) folded(row int, catches []PlacedCatch) string {
	r := p.Row(row)
	on := " on "
	if p.State.Setup.FloatMethod() == floats.Twist {
		on = " before "
	}
	inPattern := func(c PlacedCatch) PlacedCatch { return PlacedCatch{inRow: r.InPattern(c.inRow), Yarn: c.Yarn} }
	patterns := Gathered(catches, inPattern) // by stitch of the pattern, in which repeats it has the catch
	slices.SortFunc(patterns, func(a, b []PlacedCatch) int { return compareCatches(inPattern(a[0]), inPattern(b[0])) })
	place := func(c PlacedCatch) floats.Place { return r.PlaceOf(c.inRow) }
	type yarnIn struct{ yarn, repeats string }
	in := func(same []PlacedCatch) yarnIn {
		yarn := p.nameOf(same[0].Yarn.Symbol)
		if len(same) == r.Repeats() {
			return yarnIn{yarn, ""}
		}
		return yarnIn{yarn, " " + inRepeats(r.Course, mapped(same, place))}
	}
	return strings.Join(mapped(Gathered(patterns, in), func(alike [][]PlacedCatch) string {
		stitches, told := mapped(alike, func(same []PlacedCatch) string { return fmt.Sprint(place(same[0]).Stitch) }), in(alike[0])
		return told.yarn + on + Listed(stitches, "and") + told.repeats
	}), ", ")
}

func (p *Piece) nameOf(symbol rune) string {
	if yarn := p.Layout.Fabric.Yarn(symbol); yarn != chart.NoYarn {
		return p.yarnName(yarn)
	}
	return string(symbol)
}
