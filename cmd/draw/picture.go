package draw

import (
	"fmt"
	"slices"

	"strandwise/cmd/paper"
)

// Side is the side of the fabric that a picture shows.
type Side uint8

// The sides.
const (
	RightSide Side = iota // as a chart: column 1 at the right
	WrongSide             // as it lies in the hand turned over: column 1 at the left
)

// String is the word for the side on the command line.
func (s Side) String() string { return [...]string{"right", "wrong"}[s] }

// Options say how a piece is drawn.
type Options struct {
	Side   Side
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
	if o.Side == RightSide {
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
