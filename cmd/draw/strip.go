package draw

import (
	"cmp"
	"fmt"

	"strandwise/chart"
	"strandwise/session"
)

// stripWidth is the room for a strip in mm, beside a box to tick on the narrower paper; stripCell
// the most a stitch of it takes, stripArrow what the arrow takes. mostAcross is the most stitches
// in a line: with more, figures and symbols were under stripLeast, which is 8 points.
const (
	stripWidth = 176.0
	stripCell  = 9.0
	stripArrow = 6.0
	stripLeast = 8 * 25.4 / 72
	mostAcross = 25
)

// Strip draws one repeat of a row as it lies on the chart: column 1 at the right, the catches on
// their stitches, the stitches numbered from where the row begins. One of more stitches than a line takes is broken;
// its beginning stands in the first line.
func Strip(s *session.Sheet) *Scene {
	t := &strip{
		grid: grid{
			Scene: &Scene{Name: fmt.Sprintf("%s %d", s.Word(), s.Row), Description: s.Glances()[0].String()},
			yarns: s.Yarns,
		},
		s: s, count: len(s.Strips.Row), caught: map[int][]session.Catch{}, stitch: map[int]int{},
	}
	for i, stitch := range s.InOrder() {
		t.stitch[stitch.Column] = s.PatternPlace(i).Stitch
	}
	for _, c := range s.Distinct() {
		column := s.StitchOf(c).Column
		t.caught[column] = append(t.caught[column], c)
	}
	t.across = t.count
	if lines := (t.count + mostAcross - 1) / mostAcross; lines > 1 {
		t.across = ((t.count+lines-1)/lines + 4) / 5 * 5
	}
	t.cell.X = min(stripCell, (stripWidth-stripArrow)/float64(t.across))
	t.cell.Y, t.pen = t.cell.X*0.85, t.cell.X*0.09
	for begin := 0; begin < t.count; begin += t.across {
		t.part(begin, min(begin+t.across, t.count))
		t.Height += t.cell.Y + t.cell.X*0.75
	}
	t.Width = float64(t.across)*t.cell.X + stripArrow
	return t.Scene
}

type strip struct {
	grid
	s      *session.Sheet
	count  int                     // columns
	across int                     // columns in a line
	caught map[int][]session.Catch // by column
	stitch map[int]int             // by column
}

// part draws the columns from begin up to end, counted from where the row begins, below the
// others.
func (t *strip) part(begin, end int) {
	t.grouped(func() {
		for i := begin; i < end; i++ {
			column, place := i, t.across-1-(i-begin)
			if t.s.FromLeft {
				column, place = t.count-1-i, i-begin
			}
			at := Point{float64(place)*t.cell.X + stripArrow/2, t.Height}
			t.stitchAt(column, at)
			t.marksAt(column, at)
		}
	}, "empty", "stitch", "catch", "letter", "symbol", "sign", "number")
	if begin == 0 {
		t.arrow()
	}
}

func (t *strip) stitchAt(column int, at Point) {
	cell := t.s.Strips.Row[column]
	if cell.IsEmpty() {
		t.box("empty", at.X, at.Y, t.cell.X, t.cell.Y, Ink{Fill: &pale})
		return
	}
	t.box("stitch", at.X, at.Y, t.cell.X, t.cell.Y, Ink{Fill: &t.yarns[cell.Yarn].Color, Stroke: &gray, Width: 0.12})
}

func (t *strip) marksAt(column int, at Point) {
	cell := t.s.Strips.Row[column]
	if cell.IsEmpty() {
		return
	}
	yarn := &t.yarns[cell.Yarn]
	ink := against(yarn.Color)
	middle, stitch := Point{at.X + t.cell.X/2, at.Y + t.cell.Y/2}, t.stitch[column]
	for i, c := range t.caught[column] {
		t.catch(c, share{i, len(t.caught[column])}, middle, ink)
	}
	if t.caught[column] == nil && cell.Technique == chart.Knit {
		t.text("symbol", Point{middle.X, middle.Y + t.cell.X*0.14}, t.cell.X*0.42, Middle, string(yarn.Symbol), false, ink)
	}
	t.sign(cell.Technique, at, ink)
	if stitch%5 == 0 {
		t.label("number", middle.X, at.Y+t.cell.Y+t.cell.X*0.45, t.cell.X*0.45, Middle, fmt.Sprint(stitch))
	}
}

// catch marks a catch with its letter, in the color of the yarn caught: on its stitch, or for a
// twist on the edge before it.
func (t *strip) catch(c session.Catch, s share, middle Point, ink *chart.Color) {
	switch before := c.Twist; {
	case before && t.s.FromLeft:
		middle.X -= t.cell.X / 2
	case before:
		middle.X += t.cell.X / 2
	}
	yarn := &c.Yarn
	off, radius := s.place(t.cell.X, t.cell.X*0.34)
	middle = Point{middle.X + off.X, middle.Y + off.Y}
	t.disc("catch", middle.X, middle.Y, radius, Ink{Fill: &yarn.Color, Stroke: ink, Width: t.cell.X * 0.08},
		Datum{"letter", c.Letter}, Datum{"stitch", fmt.Sprint(c.Stitch)}, Datum{"yarn", string(yarn.Symbol)})
	size := max(stripLeast, radius*1.25)
	t.text("letter", Point{middle.X, middle.Y + size*0.32}, size, Middle, cmp.Or(c.Letter, "+"), true, against(yarn.Color))
}

// arrow stands where the row begins and points the way it goes.
func (t *strip) arrow() {
	tip, back := float64(t.across)*t.cell.X+3.6, float64(t.across)*t.cell.X+5.6
	if t.s.FromLeft {
		tip, back = 2.4, 0.4
	}
	middle := t.Height + t.cell.Y/2
	t.line("arrow", Ink{Fill: &black}, []Point{{tip, middle}, {back, middle - 1.3}, {back, middle + 1.3}, {tip, middle}})
}
