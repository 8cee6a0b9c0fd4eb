package follow

import (
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/paint"
)

// The row to work is laid out to the room there is: what is to be done next as large as fits,
// then what explains it, then the fabric below it. The layouts are tried from the largest to
// the smallest; the motion is folded first, since m shows it. The first that fits is taken, and the
// lines it leaves are filled with finished rows. Where none fits, the smallest scrolls.

// room is a layout of the row to work. The zero room is that of lines, which go on as they must.
type room struct {
	laid   bool                // for a screen
	page   bool                // for a page, which has places of its own for motions and for what is chosen
	large  bool                // runs as chips, stitches two lines high
	least  int                 // columns of a stitch, even where the row then takes several lines
	most   int                 // columns of a stitch where the row fits one line
	folded bool                // motions by their names
	first  bool                // the strip stands above the row for a glance, which is scrolled
	alone  bool                // in colors, with no finished row below, which would be far flatter than its stitches are wide
	under  [][]document.Column // finished rows below the strip, the nearest first
}

var rooms = [...]room{
	{laid: true, large: true, least: 2, most: 8, alone: true},
	{laid: true, large: true, least: 2, most: 4},
	{laid: true, large: true, least: 2, most: 4, folded: true},
	{laid: true, least: 2, most: 4, folded: true},
	{laid: true, most: 4, folded: true},
	{laid: true, most: 4, folded: true, first: true},
}

func (s State) body(look paint.Look, lines int) []string {
	var body []string
	fits := func(r room) bool {
		body = written(s.document(look, r), look)
		return len(body) <= lines
	}
	if s.sheet == nil || s.mode != knitting && !s.writing() {
		fits(room{})
		return body
	}
	for _, r := range rooms {
		if r.alone && (!look.Paint.Colors() || s.finished(1) != nil) || !fits(r) {
			continue
		}
		for r.under = s.finished(lines - len(body)); !fits(r); {
			r.under = r.under[:len(r.under)-1]
		}
		break
	}
	return body
}

// finished are rows below the one on the screen, the nearest first, while their stitches match.
func (s State) finished(most int) [][]document.Column {
	var below [][]document.Column
	sheet := s.sheet
	for sheet != nil && len(below) < most && sheet.Row > 1 && sheet.Strips.BelowFits {
		below = append(below, answer.Below(sheet))
		sheet = s.piece.Sheet(sheet.Row - 1)
	}
	return below
}

// strip lays a strip out to the room, what is worked of it stepped back. A row of one run without a
// catch has nothing to find in it.
func (s State) strip(r room, strip document.Strip) document.Strip {
	if !r.laid || strip.Optional {
		return strip
	}
	strip.Least, strip.Most, strip.High, strip.Below = r.least, r.most, r.large, r.under
	strip.Ruler = true
	if worked := s.place(); worked > 0 && worked < s.sheet.Stitches() && !s.looking() {
		for _, st := range s.sheet.InOrder()[:s.sheet.InPattern(worked+1)] {
			strip.Columns[st.Column].Worked = true
		}
	}
	return strip
}
