package draw

import (
	"fmt"
)

// View says how a piece is drawn.
type View struct {
	Side   Side
	Inches bool    // the scale in inches
	Cell   float64 // width of a stitch in mm; 0 is the usual
}

// usualCell is the width of a drawn stitch in mm.
const usualCell = 5

// Picture draws all rows of a piece, at least one, in one scene.
func Picture(k *Knitted, look View) *Scene {
	return newView(k, k.whole(), look).draw("")
}

// Parts draws a piece in parts of at most so many columns and rows, as even as can be;
// neighbouring parts share overlap columns or rows. They come in reading order: from the
// upper left to the lower right.
func Parts(k *Knitted, look View, columns, rows int) []*Scene {
	whole := k.whole()
	across := parts(whole.columnFrom, whole.columnTo, columns)
	up := parts(whole.rowFrom, whole.rowTo, rows)
	var scenes []*Scene
	for i := range up {
		for j := range across {
			r := up[len(up)-1-i]
			c := across[len(across)-1-j]
			if look.Side == WrongSide {
				c = across[j]
			}
			name := ""
			if n := len(up) * len(across); n > 1 {
				name = fmt.Sprintf(", part %d of %d", len(scenes)+1, n)
			}
			scenes = append(scenes, newView(k, window{r[0], r[1], c[0], c[1]}, look).draw(name))
		}
	}
	return scenes
}

// OnPaper draws a piece for pages of paper: on one where its stitches stay large enough
// to read, else in parts.
func OnPaper(k *Knitted, look View, paper Paper) []*Scene {
	width, height := paper.printable()
	look.Cell = usualCell
	s := newView(k, k.whole(), look).draw("")
	if shrunk := look.Cell * min(1, width/s.Width, height/s.Height); shrunk >= readableCell {
		look.Cell = shrunk
		return []*Scene{newView(k, k.whole(), look).draw("")}
	}
	look.Cell = readableCell * 1.5
	v := newView(k, k.whole(), look)
	v.draw("")
	columns := (width - (v.Width - v.bodyWidth())) / v.cell.X
	rows := (height - (v.Height - v.bodyHeight()) - 2*legendLine) / v.cell.Y
	return Parts(k, look, int(columns), int(rows))
}

// readableCell is the least width of a stitch on paper in mm, before a piece is drawn in
// parts; legendLine is room for a line of the legend, which takes more of them on narrower
// parts.
const (
	readableCell = 2.6
	legendLine   = 6
)

// overlap is how many columns or rows neighbouring parts share.
const overlap = 2

// parts splits from..to, both in, into as few parts of at most most as can be, alike in length
// up to one; each but the first begins with the last overlap of the one before.
func parts(from, to, most int) [][2]int {
	n := to - from + 1
	most = max(most, overlap+1)
	if n <= most {
		return [][2]int{{from, to}}
	}
	count := (n - overlap + most - overlap - 1) / (most - overlap) // ceil
	step, rest := (n-overlap)/count, (n-overlap)%count
	var all [][2]int
	for i := range count {
		end := from + step + overlap - 1
		if i < rest {
			end++
		}
		all = append(all, [2]int{from, end})
		from = end - overlap + 1
	}
	return all
}

func newView(k *Knitted, win window, look View) *view {
	width, height, _ := k.stitch()
	cell := look.Cell
	if cell == 0 {
		cell = usualCell
	}
	v := &view{
		Scene: &Scene{}, k: k, win: win, wrong: look.Side == WrongSide, inches: look.Inches,
		cell: Point{cell, cell * height / width}, texture: alikeInGray(k.Piece.Layout.Fabric.Yarns),
	}
	v.letter = min(v.cell.X*0.62, max(v.cell.Y*0.9, v.cell.X*0.45))
	return v
}

// leastWidth is how wide a picture is at least in mm, for its legend to be read.
const leastWidth = 90

// draw draws the picture. The name is added to its title.
func (v *view) draw(name string) *Scene {
	digits := float64(len(fmt.Sprint(v.win.rowTo)))
	side := v.letter*0.62*digits + v.rim() + 1.5
	text := v.legendLetter()
	v.left, v.top = side, text*2.2
	v.Width = max(v.bodyWidth()+2*side, leastWidth)
	v.name(name)
	v.add(Shape{Kind: Label, Class: "title", Points: []Point{{v.left, text * 1.4}}, Size: text * 1.1, Text: v.Name, Bold: true, Ink: Ink{Fill: &Black}})

	v.clip(v.left-v.cell.X/2, v.top, v.bodyWidth()+v.cell.X, v.bodyHeight())
	v.cells()
	v.grid()
	if v.wrong {
		v.strands()
	} else {
		v.stitchSigns()
		v.catchesOnChart()
	}
	v.unclip()
	v.numbers()

	y := v.top + v.bodyHeight() + v.letter*2.2
	y += v.scale(y)
	y += v.placeLegend(v.legend(), y, v.Width-2*side, true)
	v.Height = y + 1
	return v.Scene
}

// name gives the picture its name and description.
func (v *view) name(part string) {
	side := "right side"
	if v.wrong {
		side = "wrong side"
	}
	v.Name = fmt.Sprintf("%s, %s, %ss %d to %d%s", v.k.Piece.State.Setup.Name, side, v.k.rowWord(), v.win.rowFrom, v.win.rowTo, part)
	if v.k.Across > 0 {
		v.Name += ", one repeat"
	}
	if v.win.columns() < v.k.Columns() {
		v.Name += fmt.Sprintf(", columns %d to %d", v.win.columnFrom+1, v.win.columnTo+1)
	}
	v.Description = v.describe()
}
