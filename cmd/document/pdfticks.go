package document

import (
	"fmt"
	"slices"

	"strandwise/cmd/paper"
)

// tickRoom is what a box of several takes, with the number of its row, in mm.
func (f *flow) tickRoom() float64 { return f.sizes.box + 3*f.sizes.text }

// boxes holds lines of boxes where there are several; a single one stands beside the row.
func (f *flow) boxes(all []Tick) {
	if len(all) < 2 {
		return
	}
	for line := range slices.Chunk(all, int((f.width-f.inset)/f.tickRoom())) {
		f.held = append(f.held, setting{ticks: line, x: f.inset, before: 0.6, height: f.sizes.box + 1.2})
	}
}

// ticks sets a line of boxes with their numbers.
func (f *flow) ticks(all []Tick, x, y float64) {
	for _, t := range all {
		f.box(x, y, t.Done)
		f.Letters(f.sizes.text, false)
		f.Words(paper.Margin+x+f.sizes.box+0.3*f.sizes.text, y+f.sizes.box*0.8, fmt.Sprint(t.Row), paperBlack)
		x += f.tickRoom()
	}
}

// box is what is ticked when the row is done.
func (f *flow) box(x, y float64, done bool) {
	left, top, size := paper.Margin+x, y+0.6, f.sizes.box
	f.stroke(paperBlack, 0.5)
	f.Rect(left, top, size, size, "D")
	if done {
		f.stroke(paperBlack, 0.9)
		f.Line(left+size*0.2, top+size*0.55, left+size*0.42, top+size*0.8)
		f.Line(left+size*0.42, top+size*0.8, left+size*0.85, top+size*0.2)
	}
}
