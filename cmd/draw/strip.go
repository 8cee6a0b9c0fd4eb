package draw

import (
	"cmp"
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/session"
)

// Lengths in mm.
const (
	stripWidth = 176.0 // room for a strip beside a box to tick on the narrower paper
	stripCell  = 9.0   // the most of a stitch
	stripArrow = 6.0
	stripLeast = 8 * 25.4 / 72 // 8 points: no figure or symbol is smaller
	mostAcross = 25            // stitches in a line: with more they were
)

// Strip draws one repeat of a row as it lies on the chart, column 1 at the right, numbered from where the row begins.
// One of more stitches than a line takes is broken; its beginning stands in the first line.
func Strip(s *session.Sheet) *Scene {
	t := &strip{
		grid: grid{
			Scene: &Scene{Name: fmt.Sprintf("%s %d", s.Word(), s.Row), Description: s.Glances()[0].String()},
			yarns: s.Yarns, left: stripArrow / 2,
		},
		s: s, stitch: map[int]int{},
	}
	for i, stitch := range s.InOrder() {
		t.stitch[stitch.Column] = s.PatternPlace(i).Stitch
	}
	count := len(s.Strips.Row)
	across := count
	if lines := (count + mostAcross - 1) / mostAcross; lines > 1 {
		across = ((count+lines-1)/lines + 4) / 5 * 5
	}
	t.cell.X = min(stripCell, (stripWidth-stripArrow)/float64(across))
	t.cell.Y, t.pen = t.cell.X*0.85, t.cell.X*0.09
	t.Width = float64(across)*t.cell.X + stripArrow
	for begin := 0; begin < count; begin += across {
		t.top, t.win = t.Height, window{1, 1, begin, begin + across - 1}
		if s.FromLeft {
			t.win.columnFrom, t.win.columnTo = count-begin-across, count-begin-1
		}
		t.layered(t.part, "empty", "stitch", "catch", "letter", "symbol", "sign", "number")
		if begin == 0 {
			t.arrow()
		}
		t.Height += t.cell.Y + t.cell.X*0.75
	}
	return t.Scene
}

type strip struct {
	grid
	s      *session.Sheet
	stitch map[int]int // by column
}

// part draws the columns of the window, counted from 0 at column 1 of the chart, below the parts drawn before.
func (t *strip) part() {
	cells := t.s.Strips.Row
	for _, column := range fromLeft(max(0, t.win.columnFrom), min(t.win.columnTo+1, len(cells)), !t.s.FromLeft) {
		cell, at := cells[column], t.corner(1, column)
		if cell.IsEmpty() {
			t.box("empty", at, t.cell.X, t.cell.Y, Ink{Fill: &pale})
			continue
		}
		yarn := &t.yarns[cell.Yarn]
		t.box("stitch", at, t.cell.X, t.cell.Y, Ink{Fill: &yarn.Color, Stroke: &gray, Width: 0.12})
		ink, middle, caught := against(yarn.Color), at.plus(t.cell.X/2, t.cell.Y/2), t.s.Strips.Caught[column]
		for i, c := range caught {
			t.catch(c, share{i, len(caught)}, middle, ink)
		}
		if caught == nil && cell.Technique == chart.Knit {
			t.text("symbol", middle.plus(0, t.cell.X*0.14), t.cell.X*0.42, Middle, string(yarn.Symbol), ink)
		}
		t.sign(cell.Technique, at, ink)
		if stitch := t.stitch[column]; stitch%5 == 0 {
			t.label("number", Point{middle.X, at.Y + t.cell.Y + t.cell.X*0.45}, t.cell.X*0.45, Middle, fmt.Sprint(stitch))
		}
	}
}

// catch marks a catch with its letter, in the yarn's color: on its stitch, or for a twist on the edge before it.
func (t *strip) catch(c session.Catch, s share, middle Point, ink *chart.Color) {
	switch before := c.Twist; {
	case before && t.s.FromLeft:
		middle.X -= t.cell.X / 2
	case before:
		middle.X += t.cell.X / 2
	}
	yarn := &c.Yarn
	off, radius := s.place(t.cell.X, t.cell.X*0.34)
	middle = middle.plus(off.X, off.Y)
	t.disc("catch", middle, radius, Ink{Fill: &yarn.Color, Stroke: ink, Width: t.cell.X * 0.08},
		Datum{"letter", c.Letter}, Datum{"stitch", fmt.Sprint(c.Stitch)}, Datum{"yarn", string(yarn.Symbol)})
	size := max(stripLeast, radius*1.25)
	t.text("letter", middle.plus(0, size*0.32), size, Middle, cmp.Or(c.Letter, "+"), against(yarn.Color)).Bold = true
}

func (t *strip) arrow() {
	tip, back := t.Width-2.4, 2.0
	if t.s.FromLeft {
		tip, back = 2.4, -2.0
	}
	at := Point{tip, t.Height + t.cell.Y/2}
	t.line("arrow", Ink{Fill: &black}, []Point{at, at.plus(back, -1.3), at.plus(back, 1.3), at})
}

// Backs draw the wrong side of a row for a card: one repeat of each block, in the middle of those caught as
// most are, and the row below where that fits; one wider than a strip in parts, without those that have no catch.
func Backs(k *Knitted, s *session.Sheet) (scenes []*Scene) {
	const wide = 5.8 // mm: as many stitches as a strip has in a line fit, with row numbers of four figures beside them
	from := s.Row
	if s.Strips.BelowFits {
		from--
	}
	for i := range s.Blocks {
		b := &s.Blocks[i]
		alike := append([]session.RepeatRuns{b.Often}, b.Others...)
		at := slices.IndexFunc(alike, func(r session.RepeatRuns) bool { return len(r.Catches) > 0 })
		if at < 0 {
			continue
		}
		block, repeats := s.Course.Block(b.Number), alike[at].Repeats
		first := s.FirstColumn(block, repeats[len(repeats)/2])
		for _, part := range parts(first, first+block.Columns-1, mostAcross) {
			win := window{from, s.Row, part[0], part[1]}
			v := newView(k, win, Options{Side: WrongSide, Bare: true, wide: wide, small: stripLeast})
			v.Compact = true // there are many
			for range v.marks(s.Row) {
				scene := v.draw("")
				scene.Name, scene.Description = fmt.Sprintf("%s %d, wrong side", s.Word(), s.Row), k.extent(win)
				scenes = append(scenes, scene)
				break // one catch in it is enough
			}
		}
	}
	return scenes
}
