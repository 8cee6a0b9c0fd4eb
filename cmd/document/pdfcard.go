package document

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paper"
)

// carded has number and row large, beside a box to tick, and the rest small; a page may begin with what
// is told below the first picture, but not between the title of a motion and its picture.
func (f *flow) carded(b Card) {
	f.inset = f.sizes.box + 3
	f.hold(betweens/2, 0, func(top float64) {
		if len(b.Ticks) == 1 {
			f.box(paper.Margin, top, b.Ticks[0].Done)
		}
		f.card = &b
		f.foot(&b)
	})
	f.row(b.Row, f.sizes.glance, 4)
	f.held[1].before = 0
	f.boxes(b.Ticks)
	below, motion := false, false
	for _, more := range b.Blocks {
		begins := len(f.held)
		f.block(more)
		if len(f.held) > begins {
			f.held[begins].loose = below && !motion
		}
		_, drawn := more.(Picture)
		line, _ := more.(Line)
		below, motion = below || drawn, !drawn && (motion || strings.HasSuffix(line.Text.String(), ":"))
	}
	f.hold(0, 0, func(top float64) {
		f.card = nil
		f.y += betweens / 2
		f.rule(f.top + f.y)
	})
	f.inset = 0
}

// boxes holds lines of boxes where there are several; a single one stands beside the row.
func (f *flow) boxes(all []Tick) {
	if len(all) < 2 {
		return
	}
	wide := f.sizes.box + 3*f.sizes.text // a box with the number of its row
	for line := range slices.Chunk(all, int((f.width-f.inset)/wide)) {
		left := paper.Margin + f.inset
		f.hold(0.6, f.sizes.box+1.2, func(top float64) {
			for _, t := range line {
				f.box(left, top, t.Done)
				f.Letters(f.sizes.text, false)
				f.Words(left+f.sizes.box+0.3*f.sizes.text, top+f.sizes.box*0.8, fmt.Sprint(t.Row), paperBlack)
				left += wide
			}
		})
	}
}

func (f *flow) box(left, top float64, done bool) {
	size := f.sizes.box
	top += 0.6
	f.stroke(paperBlack, 0.5)
	f.Rect(left, top, size, size, "D")
	if done {
		f.stroke(paperBlack, 0.9)
		f.Line(left+size*0.2, top+size*0.55, left+size*0.42, top+size*0.8)
		f.Line(left+size*0.42, top+size*0.8, left+size*0.85, top+size*0.2)
	}
}

// onPage names the rows of cards on one page, their parts and their stitches.
func onPage(cards []*Card) string {
	first, last := cards[0], cards[len(cards)-1]
	rows := Stretch{From: first.Ticks[0].Row, To: last.Ticks[len(last.Ticks)-1].Row}
	text := chart.Plural(first.Word, rows.To-rows.From+1) + " " + rows.Rows()
	for i, c := range cards {
		if c.Part != "" && (i == 0 || c.Part != cards[i-1].Part) {
			text += ", " + c.Part
		}
	}
	switch {
	case first.Stitches == 0:
		return text
	case first.Stitches == last.Stitches:
		return text + ", " + Counted(first.Stitches, "stitch")
	}
	return text + fmt.Sprintf(", %d to %s", first.Stitches, Counted(last.Stitches, "stitch"))
}

func (f *flow) foot(c *Card) {
	f.on = append(f.on, c)
	f.Foot(onPage(f.on))
}
