package draw

import (
	"fmt"
	"slices"

	"strandwise/floats"
)

// A ruler numbers the repeats of one row and every fifth stitch within each, in knitting order. Rows may count from
// either side, or be shaped, so a fabric has the ruler of a row below it, and above it that of one worked otherwise,
// if there is one.

type tick struct {
	floats.Place
	column int // from 0
}

// ticks are the stitches that lie from one column to another, both in, in knitting order.
func ticks(r *floats.Row, from, to int) []tick {
	var all []tick
	for at := range r.All() {
		if c := r.Stitch(at).Column; c >= from && c <= to {
			all = append(all, tick{r.PlaceOf(at), c})
		}
	}
	return all
}

// rulers chooses their rows: below the lowest that is no plain one, above the highest worked otherwise than that, or
// 0.
func (k *Knitted) rulers(win window) (below, above int) {
	for below = win.rowFrom; k.plain(below); below++ {
		if below == win.rowTo {
			return win.rowFrom, 0
		}
	}
	for above = win.rowTo; above > below; above-- {
		if !k.plain(above) && !sameTicks(k.Piece.Row(above), k.Piece.Row(below)) {
			return below, above
		}
	}
	return below, 0
}

func (k *Knitted) plain(row int) bool { return k.Piece.Layout.Chart(k.Piece.Row(row).Part) == nil }

func sameTicks(a, b *floats.Row) bool {
	return a.FromLeft == b.FromLeft && a.Fits(b.Course) &&
		slices.EqualFunc(a.InOrder(), b.InOrder(), func(a, b floats.Stitch) bool { return a.Column == b.Column })
}

func (k *Knitted) rulerWords(win window) string {
	below, above := k.rulers(win)
	words := "numbers below: stitches of " + k.sideOf(below)
	if above > 0 {
		words += "; above: of " + k.sideOf(above)
	}
	return words
}

func (k *Knitted) sideOf(row int) string {
	words, side := fmt.Sprintf("%s %d", k.rowWord(), row), RightSide
	if k.Piece.Row(row).WrongSide {
		side = WrongSide
	}
	if k.Piece.Layout.Fabric.Flat {
		words += fmt.Sprintf(", worked on the %s side", side)
	}
	return words
}

// extent tells what of the first row with a ruler is shown: "repeat 2 stitch 1 to repeat 4 stitch 12"; empty when
// nothing, or but one of its repeats by itself.
func (k *Knitted) extent(win window) string {
	row, _ := k.rulers(win)
	r := k.Piece.Row(row)
	shown := ticks(r, win.columnFrom, win.columnTo)
	if len(shown) == 0 || k.Across > 0 {
		return ""
	}
	first, last := shown[0].Place, shown[len(shown)-1].Place
	switch {
	case first.Block > 0:
		return k.Piece.PlaceWords(row, r.StitchAt(first)) + " to " + k.Piece.PlaceWords(row, r.StitchAt(last))
	case r.Repeats() == 1:
		return fmt.Sprintf("stitches %d to %d", first.Stitch, last.Stitch)
	}
	return fmt.Sprintf("repeat %d stitch %d to repeat %d stitch %d", first.Repeat, first.Stitch, last.Repeat, last.Stitch)
}

// rulerHeight is the room a ruler takes beside the stitches; 0 for none.
func (v *view) rulerHeight(row int) float64 {
	switch {
	case row == 0:
		return 0
	case v.repeated(row):
		return v.letter * 2.6
	}
	return v.letter * 1.4
}

func (v *view) repeated(row int) bool { return v.k.Across == 0 && v.row(row).Repeats() > 1 }

// ruler draws the ruler of a row, 0 for none, with its stitches on one base line and its repeats on another.
func (v *view) ruler(row int, stitches, repeats float64) {
	if row == 0 {
		return
	}
	for _, t := range ticks(v.row(row), v.win.columnFrom, v.win.columnTo) {
		if t.Stitch%5 == 0 {
			v.label("number", Point{v.x(float64(t.column) + 0.5), stitches}, v.letter, Middle, fmt.Sprint(t.Stitch))
		}
	}
	if v.repeated(row) {
		v.repeatNames(row, repeats)
	}
}

// repeatNames names the repeats of a row on a base line, as far as there is room.
func (v *view) repeatNames(row int, line float64) {
	r := v.row(row)
	for i := range r.Blocks {
		b := &r.Blocks[i]
		for rep := 1; rep <= b.Repeats; rep++ {
			first := r.FirstColumn(b, rep)
			from, to := max(first, v.win.columnFrom), min(first+b.Columns-1, v.win.columnTo)
			text, long := repeatName(r, b, rep)
			room := float64(to-from+1) * v.cell.X
			if textWidth(long, v.letter) < room {
				text = long
			}
			if textWidth(text, v.letter) < room || rep%5 == 0 && to >= from {
				v.label("number", Point{v.x(float64(from+to+1) / 2), line}, v.letter, Middle, text).Bold = true
			}
		}
	}
}

func repeatName(r *floats.Row, b *floats.Block, rep int) (short, long string) {
	switch {
	case len(r.Blocks) == 1:
		return fmt.Sprint(rep), fmt.Sprintf("repeat %d", rep)
	case b.Repeats == 1:
		return fmt.Sprint(b.Number), fmt.Sprintf("block %d", b.Number)
	}
	return fmt.Sprintf("%d/%d", b.Number, rep), fmt.Sprintf("block %d repeat %d", b.Number, rep)
}
