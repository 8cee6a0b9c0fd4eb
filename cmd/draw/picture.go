package draw

import (
	"cmp"
	"fmt"
	"slices"

	"strandwise/cmd/paper"
	"strandwise/floats"
	"strandwise/session"
)

// Side is the side of the fabric that a picture shows, by its word on the command line.
type Side string

// The sides.
const (
	RightSide Side = "right" // as a chart: column 1 at the right
	WrongSide Side = "wrong" // as it lies in the hand turned over: column 1 at the left
)

// Options say how a piece is drawn.
type Options struct {
	Side   Side // the right one if not said
	Inches bool // the scale in inches
	Upward bool // to knit from: parts come from the lowest row on, with charts whole where they fit
	Bare   bool // neither title nor scale nor legend, for what stands beside a picture with them

	// Places has the numbers of the mending list whose place on the page is named already; with nil none is.
	Places map[int]bool

	wide    float64 // of a stitch in mm; 0 is the usual
	small   float64 // height of numbers, and the least of letters, in mm; 0 is what the stitches leave them
	compact bool    // parts of a page: as little of each as can be, scale and legend with the first
}

// Lengths in mm, and counts of columns and rows.
const (
	usualCell    = 5   // width of a drawn stitch
	readableCell = 2.6 // the least on paper, before a piece is drawn in parts
	legendLine   = 6   // room for another line of the legend, which takes more of them on narrower parts
	leastWidth   = 90  // of a picture, for its legend to be read
	pageColumns  = 48  // the most of a part on a page of a browser: its numbers can be read across a sheet of paper
	pageRows     = 60
	overlap      = 2 // that neighboring parts share
)

// Picture draws all rows of a piece, at least one, in one scene.
func Picture(k *Knitted, o Options) *Scene {
	return newView(k, k.whole(), o).draw("")
}

// Parts draws a piece in parts of at most so many columns and rows, as even as can be, neighbors with overlap shared,
// from the upper left to the lower right.
func Parts(k *Knitted, o Options, columns, rows int) []*Scene {
	whole := k.whole()
	across := parts(whole.columnFrom, whole.columnTo, columns)
	up := parts(whole.rowFrom, whole.rowTo, rows)
	if o.Upward {
		up = k.copies(whole.rowFrom, whole.rowTo, rows)
	} else {
		slices.Reverse(up)
	}
	if o.Side != WrongSide {
		slices.Reverse(across)
	}
	var scenes []*Scene
	for _, r := range up {
		for _, c := range across {
			name := ""
			if n := len(up) * len(across); n > 1 {
				name = fmt.Sprintf(", part %d of %d", len(scenes)+1, n)
			}
			v := newView(k, window{r[0], r[1], c[0], c[1]}, o)
			v.Compact, v.explained = o.compact, o.compact && len(scenes) > 0
			scenes = append(scenes, v.draw(name))
		}
	}
	return scenes
}

// copies splits rows from..to, both in, into parts of at most most that begin where a chart does, as many charts in
// one as fit; a chart of more rows is split as any.
func (k *Knitted) copies(from, to, most int) [][2]int {
	var all [][2]int
	for begin := from; begin <= to; {
		end := begin
		for end < to && k.Piece.Row(end+1).ChartRow > 1 {
			end++
		}
		last := len(all) - 1
		switch {
		case end-begin >= most:
			all = append(all, parts(begin, end, most)...)
		case last >= 0 && end-all[last][0] < most:
			all[last][1] = end
		default:
			all = append(all, [2]int{begin, end})
		}
		begin = end + 1
	}
	return all
}

// OnPaper draws a piece on one page where its stitches stay large enough to read, else in parts, whose stitches are
// the smaller where that keeps all rows together.
func OnPaper(k *Knitted, o Options, p paper.Paper) []*Scene {
	width, height := p.Room()
	s := Picture(k, o)
	shrunk := usualCell * min(1, width/s.Width, height/s.Height)
	o.wide = max(readableCell, shrunk)
	if s = Picture(k, o); shrunk >= readableCell || s.Width <= width && s.Height <= height {
		return []*Scene{s}
	}
	room := func(cell float64) (columns, rows int) {
		o.wide = cell
		v := newView(k, k.whole(), o)
		v.draw("")
		return int((width - (v.Width - v.bodyWidth())) / v.cell.X), int((height - (v.Height - v.bodyHeight()) - 2*legendLine) / v.cell.Y)
	}
	large, all := readableCell*1.5, k.whole().rows()
	largeColumns, largeRows := room(large)
	columns, rows := room(readableCell)
	if largeRows >= all || rows < all {
		o.wide, columns, rows = large, largeColumns, largeRows
	}
	return Parts(k, o, columns, rows)
}

// OnPage draws a piece for a page of a browser, in parts where it is large, which have one legend.
func OnPage(k *Knitted, o Options) []*Scene {
	whole := k.whole()
	o.compact = whole.columns() > pageColumns || whole.rows() > pageRows
	return Parts(k, o, pageColumns, pageRows)
}

// parts splits from..to, both in, into as few parts of at most most as can be, alike in length up to one, each with
// the last overlap of the one before.
func parts(from, to, most int) [][2]int {
	steps := max(1, to-from+1-overlap)
	ceil := func(a, b int) int { return (a + b - 1) / b }
	all := make([][2]int, ceil(steps, max(1, most-overlap)))
	for i := range all {
		all[i] = [2]int{from + ceil(i*steps, len(all)), from + ceil((i+1)*steps, len(all)) + overlap - 1}
	}
	all[len(all)-1][1] = to
	return all
}

// CutRows leaves the rows from one to another, both in; they must be among those known.
func (k *Knitted) CutRows(from, to int) {
	win := k.whole()
	win.rowFrom, win.rowTo = from, to
	k.cut = &win
}

// CutRepeats leaves the repeats from one to another, both in, of those that Repeats counts.
func (k *Knitted) CutRepeats(from, to int) {
	row, b := k.widest()
	k.cutRepeats(row, b, from, to)
}

// CutRepeatOf leaves the repeat, of all rows, in which a stitch of a row stands.
func (k *Knitted) CutRepeatOf(row, stitch int) {
	r := k.Piece.Row(row)
	repeat := r.PlaceOf(stitch).Repeat
	k.cutRepeats(r, r.BlockAt(stitch), repeat, repeat)
}

func (k *Knitted) cutRepeats(r *floats.Row, b *floats.Block, from, to int) {
	win := k.whole()
	one, other := r.FirstColumn(b, from), r.FirstColumn(b, to)
	win.columnFrom, win.columnTo = min(one, other), max(one, other)+b.Columns-1
	k.cut = &win
}

// Repeats is how many repeats the widest block has in the row whose ruler lies below the picture.
func (k *Knitted) Repeats() int {
	_, b := k.widest()
	return b.Repeats
}

func (k *Knitted) widest() (*floats.Row, *floats.Block) {
	below, _ := k.rulers(k.whole())
	row := k.Piece.Row(below)
	at := slices.MaxFunc(row.Blocks, func(a, b floats.Block) int {
		return cmp.Or(cmp.Compare(a.Columns*a.Repeats, b.Columns*b.Repeats), cmp.Compare(b.Number, a.Number))
	})
	return row, row.Block(at.Number)
}

// Around draws the wrong side about a gap to mend. Of a gap over the start of the round it shows the end of the lower
// row and beside it, a row lower, the start of the upper one, so that the strand runs on.
func Around(k *Knitted, m session.Mend) *Scene {
	lower, upper := k.Piece.Row(m.From.Row), k.Piece.Row(m.To.Row)
	if m.From.Row == m.To.Row {
		return k.around(m, session.ColumnOf(lower, m.From.Stitch), session.ColumnOf(lower, m.To.Stitch))
	}
	left := k.around(m, session.ColumnOf(lower, m.From.Stitch), session.ColumnOf(lower, lower.Stitches()))
	right := k.around(m, session.ColumnOf(upper, 1), session.ColumnOf(upper, m.To.Stitch))
	up := Point{0, newView(k, k.whole(), Options{}).cell.Y}
	if right.change(up, 1); lower.FromLeft {
		left, right = right, left
	}
	right.change(Point{left.Width, 0}, 1)
	left.Width, left.Height = left.Width+right.Width, max(left.Height, right.Height)+up.Y
	left.Shapes = append(left.Shapes, right.Shapes...)
	return left
}

// around draws columns, counted from 1 and in either order, with what is about them.
func (k *Knitted) around(m session.Mend, from, to int) *Scene {
	const stitches, rows = 8, 3 // enough to find it by its neighbors
	win := k.whole()
	s := newView(k, window{
		rowFrom: max(win.rowFrom, m.From.Row-rows), rowTo: min(win.rowTo, m.To.Row+rows),
		columnFrom: max(win.columnFrom, min(from, to)-1-stitches), columnTo: min(win.columnTo, max(from, to)-1+stitches),
	}, Options{Side: WrongSide, Bare: true}).draw(fmt.Sprintf(", around number %d to mend", m.Number))
	s.Compact = true // there are many
	return s
}

// Overview draws a large wrong side small, without strands, with a numbered pin at each gap to mend of every repeat.
func Overview(k *Knitted) *Scene {
	const wide, letter, radius = 170.0, 3.0, 1.9
	win := k.whole()
	v := newView(k, win, Options{Side: WrongSide, wide: min(readableCell*0.9, wide/float64(win.columns()))})
	v.letter, v.left, v.top, v.Compact = letter, 10, 7, true
	v.Name = k.Piece.State.Setup.Name + ", wrong side, the whole piece with a pin at each gap to mend"
	v.Description = fmt.Sprintf("Numbers 1 to %d of the mending list.", len(k.Mends))
	v.Width, v.Height = max(v.bodyWidth()+2*v.left, textWidth(v.Name, letter)), v.top+v.bodyHeight()+2*letter
	v.label("title", Point{v.left, letter * 1.4}, letter, Start, v.Name).Bold = true
	v.stitches()
	below, _ := k.rulers(win)
	v.repeatNames(below, v.Height-letter/2)
	step := numberStep(v.cell.Y, letter)
	for row := range v.rows() {
		if row%step == 0 {
			v.rowNumber(row, v.left-1, letter, End)
		}
	}
	for _, m := range k.Mends {
		for _, g := range m.Alike {
			row, from := g.From.Row, g.From.Stitch
			at := Point{v.x(v.entry(row, min(from+g.Stitches/2, v.row(row).Stitches()))), v.y(row) + v.cell.Y/2}
			v.disc("pin", at, radius, Ink{Fill: &white, Stroke: &warningRed, Width: 0.4}, k.spotData(row, from, g.Yarn.Index)...)
			v.label("pin", at.plus(0, radius*0.5), radius*1.5, Middle, fmt.Sprint(m.Number))
		}
	}
	return v.Scene
}
