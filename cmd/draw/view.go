package draw

import (
	"cmp"
	"fmt"

	"strandwise/floats"
)

// view draws a window of a piece.
type view struct {
	grid
	k      *Knitted
	inches bool
	bare   bool

	explained bool // another part has the scale and the legend
	places    map[int]bool
	letter    float64 // size of the numbers
	least     float64 // of the letters
}

func newView(k *Knitted, win window, o Options) *view {
	cell := Point{o.cell, o.cell}
	if o.cell == 0 {
		cell = Point{usualCell, usualCell}
	}
	if g := k.gauge(); g.RowHeight() > 0 {
		cell.Y = cell.X * g.RowHeight() / g.StitchWidth()
	}
	v := &view{k: k, inches: o.Inches, bare: o.Bare, places: o.Places, least: o.least, grid: grid{
		Scene: &Scene{}, yarns: k.Piece.Layout.Fabric.Yarns, row: k.Piece.Row, win: win, wrong: o.Side == WrongSide,
		cell: cell, pen: cell.X * 0.08, empty: &pale,
	}}
	v.letter = cmp.Or(o.least, min(cell.X*0.62, max(cell.Y*0.9, cell.X*0.45)))
	v.texture = alikeInGray(v.yarns)
	return v
}

// leastWidth is how wide a picture is at least in mm, for its legend to be read.
const leastWidth = 90

// draw draws the picture. The part is added to its title.
func (v *view) draw(part string) *Scene {
	digits := float64(len(fmt.Sprint(v.win.rowTo)))
	side := v.letter*0.62*digits + v.rim() + 1.5
	text := v.legendLetter()
	below, above := v.k.rulers(v.win.rowFrom, v.win.rowTo)
	v.left, v.top = side, text*2.2+v.rulerHeight(above)
	v.Width = max(v.bodyWidth()+2*side, leastWidth)
	v.name(part)
	title := text * 1.1
	if v.bare {
		v.top, v.Width = 1+v.rulerHeight(above), v.bodyWidth()+2*side
	} else {
		v.Width = max(v.Width, textWidth(v.Name, title*1.08)+2*side) // bold letters are wider
		v.text("title", Point{v.left, text * 1.4}, title, Start, v.Name, true, &black)
	}

	v.clipped(v.left-v.cell.X/2, v.top, v.bodyWidth()+v.cell.X, v.bodyHeight(), func() {
		v.grouped(v.stitches, "ground", "stitches", "bumps")
		v.lines()
		if v.meets() {
			y := v.y(v.k.Made)
			v.line("to-come", Ink{Stroke: &black, Width: v.cell.Y * 0.16}, []Point{{v.left, y}, {v.left + v.bodyWidth(), y}})
		}
		v.signs()
		if v.wrong {
			v.strands()
		} else {
			v.grouped(v.catches, signClasses...)
		}
	})
	v.grouped(v.numbers, "number")
	y := v.top + v.bodyHeight()
	v.ruler(below, y+v.letter*1.2, y+v.letter*2.4)
	if above > 0 {
		v.ruler(above, v.top-v.letter*0.5, v.top-v.letter*1.7)
	}
	y += v.rulerHeight(below) + v.letter*0.8
	if !v.bare && !v.explained {
		y += v.scale(y)
		win := v.win
		if v.Compact {
			v.win = v.k.whole() // which this is the first part of
		}
		items := v.legend()
		v.win = win
		y += v.placeLegend(items, y, v.Width-2*side)
	}
	v.Height = y + 1
	return v.Scene
}

// numbers sets the row numbers at both sides, bold where the row begins. Where rows are low only
// those of whole fives have their number.
func (v *view) numbers() {
	step := numberStep(v.cell.Y, v.letter*1.05)
	v.eachRow(func(row int, r *floats.Row) {
		if row%step != 0 && row != v.win.rowFrom && row != v.win.rowTo {
			return
		}
		beginsLeft := r.FromLeft != v.wrong
		base := v.y(row) + v.cell.Y/2 + v.letter*0.36
		v.number(v.left-v.rim(), base, End, fmt.Sprint(row), beginsLeft)
		v.number(v.left+v.bodyWidth()+v.rim(), base, Start, fmt.Sprint(row), !beginsLeft)
	})
}

// rim is how far the row numbers stay off the stitches: strands reach out a little.
func (v *view) rim() float64 {
	if v.wrong {
		return v.letter*0.5 + v.cell.X*0.35
	}
	return v.letter * 0.5
}

func (v *view) number(x, y float64, align Align, text string, bold bool) {
	v.text("number", Point{x, y}, v.letter, align, text, bold, &black)
}
