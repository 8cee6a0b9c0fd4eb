package draw

import (
	"fmt"
	"strings"

	"strandwise/chart"
	"strandwise/session"
)

// StripWidth is the room for a strip in mm, stripCell the most a stitch of it takes; mostAcross
// is the most stitches in a line of it.
const (
	StripWidth = 170.0
	stripCell  = 7.0
	mostAcross = 40
)

// Strip draws one repeat of a row as it lies on the chart: column 1 at the right, the
// catches on their stitches, the stitches numbered from where the row begins. A row too wide for
// the room is broken; its beginning stands in the first line.
func Strip(s *session.Sheet, width float64) *Scene {
	number, pieces := s.Glance()
	st := &strip{
		Scene: &Scene{Width: width, Name: fmt.Sprintf("%s %d", s.Word(), s.Row), Description: number + " " + strings.Join(pieces, " ")},
		s:     s, count: len(s.Strips.Row), caught: map[int]session.SheetCatch{}, stitch: map[int]int{},
	}
	for i, stitch := range s.Order {
		st.stitch[stitch.Column] = i + 1
	}
	for _, c := range s.Catches {
		st.caught[c.Stitch] = c
	}
	st.draw()
	return st.Scene
}

type strip struct {
	*Scene
	s      *session.Sheet
	count  int // columns
	cell   float64
	across int                        // columns in a line
	caught map[int]session.SheetCatch // by stitch
	stitch map[int]int                // by column
}

func (t *strip) draw() {
	t.across = t.count
	if t.count > mostAcross {
		lines := (t.count + mostAcross - 1) / mostAcross
		t.across = ((t.count+lines-1)/lines + 4) / 5 * 5
	}
	const arrow = 6.0
	t.cell = min(stripCell, (t.Width-arrow)/float64(t.across))
	y := 0.0
	for begin := 0; begin < t.count; begin += t.across {
		t.oneLine(begin, min(begin+t.across, t.count), y, begin == 0)
		y += t.height() + t.cell*0.75
	}
	t.Width, t.Height = float64(t.across)*t.cell+arrow, y
}

func (t *strip) height() float64 { return t.cell * 0.85 }

// oneLine draws the columns from begin up to end, counted from where the row begins.
func (t *strip) oneLine(begin, end int, y float64, first bool) {
	for i := begin; i < end; i++ {
		column, x := i, float64(t.across-1-(i-begin))*t.cell+3
		if t.s.FromLeft {
			column, x = t.count-1-i, float64(i-begin)*t.cell+3
		}
		t.stitchAt(column, x, y)
	}
	if first {
		t.arrow(y)
	}
}

func (t *strip) stitchAt(column int, x, y float64) {
	cell := t.s.Strips.Row[column]
	if cell.IsEmpty() {
		t.box("empty", x, y, t.cell, t.height(), Ink{Fill: &Pale})
		return
	}
	yarn := &t.s.Yarns[cell.Yarn]
	t.box("stitch", x, y, t.cell, t.height(), Ink{Fill: &yarn.Color, Stroke: &gray, Width: 0.12})
	ink := against(yarn.Color)
	at, stitch := Point{x + t.cell/2, y + t.height()/2}, t.stitch[column]
	if c, caught := t.caught[stitch]; caught {
		t.catch(c, x, at, ink)
	} else if cell.Technique == chart.Knit {
		t.add(Shape{
			Kind: Label, Class: "symbol", Points: []Point{{at.X, at.Y + t.cell*0.14}}, Size: t.cell * 0.42, Align: Middle,
			Text: string(yarn.Symbol), Ink: Ink{Fill: ink},
		})
	}
	t.sign(cell.Technique, x, y, ink)
	if stitch%5 == 0 {
		t.label("number", at.X, y+t.height()+t.cell*0.45, t.cell*0.45, Middle, fmt.Sprint(stitch))
	}
}

// catch marks a catch in the color of the yarn caught: on its stitch, or for a twist on the edge
// before it.
func (t *strip) catch(c session.SheetCatch, x float64, at Point, ink *chart.Color) {
	if t.s.CatchWord() == "before" {
		at.X = x + t.cell
		if t.s.FromLeft {
			at.X = x
		}
	}
	data := []Datum{{"stitch", fmt.Sprint(c.Stitch)}, {"yarn", string(t.s.Yarns[c.Yarn].Symbol)}}
	t.disc("catch", at.X, at.Y, t.cell*0.26, Ink{Fill: &t.s.Yarns[c.Yarn].Color, Stroke: ink, Width: t.cell * 0.1}, data...)
}

func (t *strip) sign(technique chart.Technique, x, y float64, ink *chart.Color) {
	for _, stroke := range stitchStrokes[technique] {
		points := make([]Point, len(stroke))
		for i, p := range stroke {
			points[i] = Point{x + p.X*t.cell, y + p.Y*t.height()}
		}
		t.line("sign", Ink{Stroke: ink, Width: t.cell * 0.09}, points...)
	}
}

// arrow stands where the row begins and points the way it goes.
func (t *strip) arrow(y float64) {
	tip, back := float64(t.across)*t.cell+3.6, float64(t.across)*t.cell+5.6
	if t.s.FromLeft {
		tip, back = 2.4, 0.4
	}
	middle := y + t.height()/2
	t.line("arrow", Ink{Fill: &Black}, Point{tip, middle}, Point{back, middle - 1.3}, Point{back, middle + 1.3}, Point{tip, middle})
}
