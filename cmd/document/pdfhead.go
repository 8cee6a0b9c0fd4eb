package document

import (
	"fmt"

	"strandwise/cmd/paper"
)

// The head of a page is the same on all pages, so its lines are laid once and set again; the foot
// tells what stands on its own page.

// swatch is the width of a yarn's color in mm, afterSwatch what is free behind it, headGap what is
// free below the head.
const (
	swatch      = 5.0
	afterSwatch = 1.2
	headGap     = 2.5
)

// head lays the head of each page and takes its room from the pages.
func (f *flow) head(texts []Text) {
	for _, t := range texts {
		if isKey(t) {
			f.key(t)
		} else {
			f.lines(t.unbroken(), f.sizes.small, t[0].Tone == Strong, 0, 0)
		}
	}
	f.running, f.held = f.held, nil
	for _, s := range f.running {
		f.top += s.before + s.height
	}
	if len(f.running) > 0 {
		f.top += headGap
	}
	f.top += paper.Margin
	f.height -= f.top - paper.Margin
}

// isKey reports whether a text is yarns on their colors.
func isKey(t Text) bool { return len(t) > 0 && t[0].Yarn > 0 }

// key holds yarns, each a swatch of its color and its words, as many in a line as fit.
func (f *flow) key(t Text) {
	size, x := f.sizes.small, 0.0
	f.Letters(size, false)
	for _, s := range t {
		if s.Yarn == 0 {
			continue
		}
		words := f.Cut(s.Text, f.width-swatch-afterSwatch)
		reach := swatch + afterSwatch + f.Reach(words)
		item := setting{text: words, size: size, yarn: s.Yarn, x: x, height: size * lineHeight}
		switch {
		case x == 0:
			item.before = 0.6
		case x+reach > f.width:
			item.x, x = 0, 0
		default:
			item.before = -item.height // beside the one before
		}
		f.held = append(f.held, item)
		x += reach + 2*afterSwatch
	}
}

// setHead sets the head of the page that begins, and a line below it.
func (f *flow) setHead() {
	y := paper.Margin
	for _, s := range f.running {
		y += s.before + s.height
		f.write(s, paper.Margin+s.x, y)
	}
	if len(f.running) > 0 {
		f.stroke(paperLine, 0.2)
		f.Line(paper.Margin, y+headGap/3, paper.Margin+f.width, y+headGap/3)
	}
}

// write writes a text above the lower edge of its line, behind the color of its yarn.
func (f *flow) write(s setting, left, bottom float64) {
	f.Letters(s.size, s.bold)
	if s.yarn > 0 {
		c := f.yarns[s.yarn-1].Color
		f.stroke(paperBlack, 0.2)
		f.SetFillColor(int(c.R), int(c.G), int(c.B))
		f.Rect(left, bottom-s.size*1.15, swatch, s.size, "DF")
		left += swatch + afterSwatch
	}
	f.Words(left, bottom-s.size*0.35, s.text, paperBlack)
}

// onPage is the cards that begin on a page, or go on from the one before.
type onPage struct{ cards []*Card }

// told names the rows, their parts and their stitches.
func (p onPage) told() string {
	first, last := p.cards[0], p.cards[len(p.cards)-1]
	rows := Stretch{From: first.Ticks[0].Row, To: last.Ticks[len(last.Ticks)-1].Row}
	text := Plural(first.Word, rows.To-rows.From+1) + " " + rows.Rows()
	for i, c := range p.cards {
		if c.Part != "" && (i == 0 || c.Part != p.cards[i-1].Part) {
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

// foot has the foot of the page tell the cards that are on it.
func (f *flow) foot(c *Card) {
	f.on.cards = append(f.on.cards, c)
	f.Foot(f.on.told())
}
