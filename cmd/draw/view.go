package draw

import (
	"cmp"
	"fmt"
)

// view draws a window of a piece.
type view struct {
	grid
	Options
	k *Knitted

	explained bool    // another part has the scale and the legend
	letter    float64 // size of the numbers
}

func newView(k *Knitted, win window, o Options) *view {
	wide := cmp.Or(o.wide, usualCell)
	cell := Point{wide, wide}
	if g := k.gauge(); g.RowHeight() > 0 {
		cell.Y = wide * g.RowHeight() / g.StitchWidth()
	}
	yarns := k.Piece.Layout.Fabric.Yarns
	return &view{k: k, Options: o, letter: min(wide*0.62, max(cell.Y*0.9, wide*0.45)), grid: grid{
		Scene: &Scene{}, yarns: yarns, row: k.Piece.Row, win: win, wrong: o.Side == WrongSide,
		cell: cell, pen: wide * 0.08, empty: &pale, texture: alikeInGray(yarns),
	}}
}

// leastWidth is how wide a picture is at least in mm, for its legend to be read.
const leastWidth = 90

// draw draws the picture. The part is added to its title.
func (v *view) draw(part string) *Scene {
	side := v.letter*0.62*float64(len(fmt.Sprint(v.win.rowTo))) + v.rim() + 1.5
	text := v.legendLetter()
	below, above := v.k.rulers(v.win)
	v.left, v.top, v.Width = side, 1+v.rulerHeight(above), v.bodyWidth()+2*side
	v.name(part)
	if !v.Bare {
		v.top += text*2.2 - 1
		v.Width = max(v.Width, leastWidth, textWidth(v.Name, text*1.188)+2*side) // bold letters are wider
		v.label("title", Point{v.left, text * 1.4}, text*1.1, Start, v.Name).Bold = true
	}
	v.clipped(Point{v.left - v.cell.X/2, v.top}, v.bodyWidth()+v.cell.X, v.bodyHeight(), v.body)
	v.layered(v.numbers, "number")
	y := v.top + v.bodyHeight()
	v.ruler(below, y+v.letter*1.2, y+v.letter*2.4)
	v.ruler(above, v.top-v.letter*0.5, v.top-v.letter*1.7)
	y += v.rulerHeight(below) + v.letter*0.8
	if !v.Bare && !v.explained {
		y += v.scale(y)
		y += v.legend(y, v.Width-2*side)
	}
	v.Height = y + 1
	return v.Scene
}

// body draws what lies on the stitches' place.
func (v *view) body() {
	v.layered(v.stitches, "ground", "stitches", "bumps")
	v.lines()
	if v.meets() {
		y := v.y(v.k.Made)
		v.line("to-come", Ink{Stroke: &black, Width: v.cell.Y * 0.16}, []Point{{v.left, y}, {v.left + v.bodyWidth(), y}})
	}
	v.signs()
	v.layered(func() {
		if v.wrong {
			v.strands()
		}
		v.catches()
	}, "behind-edge", "behind", "strand-edge", "strand", "ticks", "leg-edge", "leg",
		"warning-edge", "warning", "move-edge", "catch", "letter", "tag-edge", "tag")
}

// numbers sets the row numbers at both sides, bold where the row begins. Where rows are low only
// those of whole fives have their number.
func (v *view) numbers() {
	step := numberStep(v.cell.Y, v.letter*1.05)
	for row, r := range v.rows() {
		if row%step == 0 || row == v.win.rowFrom || row == v.win.rowTo {
			beginsLeft := r.FromLeft != v.wrong
			v.rowNumber(row, v.left-v.rim(), v.letter, End).Bold = beginsLeft
			v.rowNumber(row, v.left+v.bodyWidth()+v.rim(), v.letter, Start).Bold = !beginsLeft
		}
	}
}

// rim is how far the row numbers stay off the stitches: strands reach out a little.
func (v *view) rim() float64 {
	if v.wrong {
		return v.letter*0.5 + v.cell.X*0.35
	}
	return v.letter * 0.5
}
