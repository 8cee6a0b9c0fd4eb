package render

import (
	"io"
	"strings"

	"strandwise/cmd/draw"
)

// The sizes of letters on cards in mm, from the row for a glance down to the small print.
const (
	glanceSize = 6.0
	textSize   = 3.6
	smallSize  = 3.1
	boxSize    = 6.0
)

// CardsPDF writes cards as a document: chart pages, then the rows, with breaks only between
// rows. The same cards give the same bytes.
func CardsPDF(w io.Writer, c *Cards, paper draw.Paper) error {
	d := draw.NewBook(c.Title, paper)
	d.Scenes(draw.OnPaper(c.Chart, draw.Options{Side: draw.RightSide, Inches: c.Inches}, paper))
	f := &flow{Book: d, paper: paper}
	f.begin()
	f.write(f.heading(c))
	for i := range c.Rows {
		f.write(f.row(&c.Rows[i]))
	}
	return d.Finish(w)
}

// flow sets blocks one below another and begins a page where the next does not fit.
type flow struct {
	*draw.Book
	paper draw.Paper
	y     float64
}

// block is what stays together: texts and drawings, in order.
type block struct {
	items []blockItem
	box   bool // with a box to tick at its left
}

// blockItem is a line of text or a drawing.
type blockItem struct {
	text   string
	size   float64
	bold   bool
	indent float64
	scene  *draw.Scene
	before float64 // free above it
}

func (i blockItem) height() float64 {
	if i.scene != nil {
		return i.before + i.scene.Height
	}
	return i.before + i.size*1.35
}

func (f *flow) begin() {
	f.Page()
	f.y = draw.Margin
}

// betweenBlocks is free between two blocks, with a thin line in its middle.
const betweenBlocks = 5.0

func (f *flow) write(b block) {
	height := 0.0
	for _, item := range b.items {
		height += item.height()
	}
	if bottom := f.paper.Height - draw.Margin - 5; f.y+height > bottom && f.y > draw.Margin {
		f.begin()
	}
	if b.box {
		f.box(f.y)
	}
	for _, item := range b.items {
		f.item(item)
	}
	f.y += betweenBlocks
	middle := f.y - betweenBlocks/2
	f.Shape(&draw.Shape{
		Kind: draw.Line, Points: []draw.Point{{X: draw.Margin, Y: middle}, {X: f.paper.Width - draw.Margin, Y: middle}},
		Ink: draw.Ink{Stroke: &draw.Pale, Width: 0.2},
	})
}

func (f *flow) box(y float64) {
	f.Shape(&draw.Shape{
		Kind: draw.Box, Points: []draw.Point{{X: draw.Margin, Y: y + 0.6}, {X: draw.Margin + boxSize, Y: y + 0.6 + boxSize}},
		Ink: draw.Ink{Stroke: &draw.Black, Width: 0.5},
	})
}

func (f *flow) item(item blockItem) {
	f.y += item.before
	if item.scene != nil {
		f.SceneAt(item.scene, draw.Margin+item.indent, f.y, min(1, (f.paper.Width-2*draw.Margin-item.indent)/item.scene.Width))
		f.y += item.scene.Height
		return
	}
	f.y += item.size * 1.35
	f.Shape(&draw.Shape{
		Kind: draw.Label, Points: []draw.Point{{X: draw.Margin + item.indent, Y: f.y - item.size*0.35}},
		Text: item.text, Size: item.size, Bold: item.bold, Ink: draw.Ink{Fill: &draw.Black},
	})
}

// wrapped breaks a text into lines of a block; lines after the first go in by hang.
func (f *flow) wrapped(text string, size float64, bold bool, indent, hang float64) []blockItem {
	f.Letters(size, bold)
	room := f.paper.Width - 2*draw.Margin - indent
	var items []blockItem
	line := ""
	flush := func() {
		if line != "" {
			items = append(items, blockItem{text: strings.ReplaceAll(line, noBreak, " "), size: size, bold: bold, indent: indent})
			line = ""
			if len(items) == 1 {
				indent, room = indent+hang, room-hang
			}
		}
	}
	for _, word := range strings.Split(text, " ") {
		if line != "" && f.Width(line+" "+word) > room {
			flush()
		}
		line = strings.TrimSpace(line + " " + word)
	}
	flush()
	return items
}

// heading opens the rows.
func (f *flow) heading(c *Cards) block {
	b := block{items: f.wrapped(c.Title, glanceSize*1.2, true, 0, 0)}
	for _, text := range append(c.Intro, c.Cautions...) {
		b.items = append(b.items, spaced(f.wrapped(text, textSize, false, 0, 0), 1)...)
	}
	return b
}

// spaced leaves room above the first of some lines.
func spaced(items []blockItem, above float64) []blockItem {
	if len(items) > 0 {
		items[0].before = above
	}
	return items
}

// row is the block of a row: number and glance large, then the strip, then what else there is to
// know, small.
func (f *flow) row(r *CardRow) block {
	const indent = boxSize + 3
	b := block{box: true}
	add := func(items []blockItem) { b.items = append(b.items, items...) }
	add(f.wrapped(r.Glance, glanceSize, true, indent, 4))
	for _, text := range r.OtherRepeats {
		add(f.wrapped(text, textSize, true, indent, 3))
	}
	b.items = append(b.items, blockItem{scene: r.Strip, indent: indent - 3, before: 1.2})
	add(f.wrapped(r.Place, smallSize, false, indent, 3))
	for _, text := range r.Notes {
		add(f.wrapped(text, textSize, false, indent, 3))
	}
	for _, m := range r.Motions {
		add(spaced(f.wrapped(m.Title+": "+m.steps(), textSize, false, indent, 3), 0.8))
		for _, note := range m.Notes {
			add(f.wrapped(note, smallSize, false, indent+3, 0))
		}
	}
	for _, text := range r.Begins {
		add(f.wrapped(text, smallSize, true, indent, 0))
	}
	return b
}
