package document

import (
	"io"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paper"
)

// A document on paper is a column of lines and drawings. The lines of a block are gathered
// first and then set: whatever fits a page is not broken over two, but for what is below the picture of a card.
// A section begins a page.

// sizes of letters in mm, from the row for a glance down to the small print.
type sizes struct {
	glance, text, small float64
	box                 float64 // to tick
}

// largeLetters are 24 points, for low vision; largeFoot is what the foot of the page takes more for them.
const (
	largeLetters = 24 * 25.4 / 72
	largeFoot    = 6.0
)

// What a line takes of its letters; what is free between two drawings or cards, and below the head.
const (
	lineHeight = 1.35
	betweens   = 5.0
	labelBlank = 1.5 // a blank in front of a label
	headGap    = 2.5
	chipPad    = 0.2 // what a chip has of its color beside the letters, in parts of their size
)

var (
	paperBlack = chart.Color{R: 0x1A, G: 0x1A, B: 0x1A}
	paperLine  = chart.Color{R: 0xC8, G: 0xC8, B: 0xC8}
)

// WritePDF writes a document on paper. Its title stands at the foot of each page. The same
// document gives the same bytes. An error is one of w.
func WritePDF(w io.Writer, d Document, p paper.Paper) error {
	f := &flow{Book: paper.NewBook(d.Title, p), yarns: d.Yarns, sizes: sizes{glance: 6, text: 3.6, small: 3.1, box: 6}}
	f.width, f.height = p.Room()
	if d.Large {
		f.sizes = sizes{largeLetters, largeLetters, largeLetters, largeLetters}
		f.FootSize = f.sizes.small
		f.height -= largeFoot
	}
	f.head(d.Head)
	f.y = f.height // no page is begun
	for _, b := range d.Blocks {
		f.block(b)
		f.set()
	}
	return f.Finish(w)
}

// flow sets blocks one below another and begins a page where the next does not fit.
type flow struct {
	*paper.Book
	width, height float64 // of the room on a page
	top           float64 // of the room, below the head of the page
	y             float64 // of the room that is taken
	inset         float64 // within a card
	sizes         sizes
	yarns         []chart.Yarn
	running, held []setting // the head of each page; what is to be set
	on            []*Card   // that begin on the page, or go on from the one before
	card          *Card     // that is being set
}

// setting is a line of text or a drawing that is to be set.
type setting struct {
	before, height float64           // free above it, but at the top of a page; and its own
	draw           func(top float64) // in mm from the upper edge of the page
	loose          bool              // a page may begin with it
}

func (f *flow) hold(before, height float64, draw func(top float64)) {
	f.held = append(f.held, setting{before, height, draw, false})
}

func (f *flow) block(b Block) {
	switch b := b.(type) {
	case Heading:
		f.heading(b)
	case Line:
		f.text(b.Label, b.Text, b.Tone)
	case Items:
		for _, line := range b.lines("- ") {
			f.block(line)
		}
	case Pairs:
		for _, pair := range b.Pairs {
			f.text("", append(Words(pair.lead()), pair.Text...), Usual)
		}
	case List:
		f.lines(b.bits(), f.sizes.text, 0, 0)
	case Row:
		f.row(b, f.sizes.text, 3)
	case Strip, Letters: // paper has a picture
	case Picture:
		f.picture(b.Drawing)
	case Card:
		f.carded(b)
	default:
		panic("paper: a block without a case")
	}
}

func (f *flow) heading(b Heading) {
	size := f.sizes.glance * 1.2
	if b.Sub {
		size = f.sizes.text * 1.2
	} else if f.y > 0 {
		f.y = f.height
	}
	f.lines(b.Text.toned(Strong).bits(), size, 0, 0)
	f.text("", b.Sum, Usual)
}

func (f *flow) picture(d Drawing) {
	width, height := d.Size()
	scale := min(1, (f.width-f.inset)/width, f.height/height)
	before := betweens
	if f.inset > 0 {
		before = 1.2
	}
	left := paper.Margin + f.inset
	f.hold(before, height*scale, func(top float64) { d.PDF(f.Book, left, top, scale) })
}

// text is a statement behind its label. What steps back is small, what stands out bold.
func (f *flow) text(label string, text Text, tone Tone) {
	bits := text.toned(tone).bits()
	if len(bits) == 0 {
		return
	}
	size, hang := f.sizes.text, 0.0
	if tone == Quiet {
		size = f.sizes.small
	}
	if sign := strings.TrimSpace(label); sign != "" {
		lead := Text{{Text: sign + " ", Tone: tone}}
		bits[0], hang = append(lead, bits[0]...), f.reach(lead, size)
	}
	indent := len(label) - len(strings.TrimLeft(label, " "))
	f.lines(bits, size, float64(indent)*labelBlank, hang)
}

func (f *flow) row(b Row, size, hang float64) {
	bits := Text{{Text: b.Head, Tone: Strong}}.bits()
	for _, run := range b.Runs {
		bits = append(bits, run.Text)
	}
	f.lines(bits, size, 0, hang)
}

// lines holds the lines of bits, which after the first go in by hang.
func (f *flow) lines(bits []Text, size, indent, hang float64) {
	sheet := breaker{func(t Text) float64 { return f.reach(t, size) }, true}
	for i, line := range sheet.lines(bits, f.width-f.inset-indent, hang) {
		before, left := 0.6, paper.Margin+f.inset+indent
		if i > 0 {
			before, left = 0, left+hang
		}
		f.hold(before, size*lineHeight, func(top float64) { f.write(line, size, left, top) })
	}
}

func (s Span) bold() bool { return s.Tone == Strong || s.Tone == Warning }

// reach is how far a text goes, in mm.
func (f *flow) reach(text Text, size float64) float64 {
	reach := 0.0
	for _, s := range text {
		f.Letters(size, s.bold())
		reach += f.Reach(s.Text)
		if s.Yarn > 0 {
			reach += 2 * chipPad * size
		}
	}
	return reach
}

func (f *flow) write(text Text, size, left, top float64) {
	for _, span := range text {
		ink, pad, reach := paperBlack, 0.0, f.reach(Text{span}, size)
		if span.Yarn > 0 {
			c := f.yarns[span.Yarn-1].Color
			ink, pad = c.Ink(), chipPad*size
			f.stroke(paperLine, 0.2)
			f.SetFillColor(int(c.R), int(c.G), int(c.B))
			f.RoundedRect(left, top+size*(lineHeight-1.27), reach, size*1.22, pad, "1234", "DF")
		}
		f.Letters(size, span.bold())
		f.Words(left+pad, top+size*(lineHeight-0.35), span.Text, ink)
		left += reach
	}
}

// set sets what is held, on a new page where this has no room for what stands together.
func (f *flow) set() {
	for len(f.held) > 0 {
		n := 1 + slices.IndexFunc(f.held[1:], func(s setting) bool { return s.loose })
		if n == 0 {
			n = len(f.held)
		}
		total := 0.0
		for _, s := range f.held[:n] {
			total += s.before + s.height
		}
		if f.y+total > f.height && f.y > 0 {
			f.begin()
		}
		for _, s := range f.held[:n] {
			if f.y+s.before+s.height > f.height && f.y > 0 {
				f.begin()
			}
			if f.y > 0 {
				f.y += s.before
			}
			f.y += s.height
			s.draw(f.top + f.y - s.height)
		}
		f.held = f.held[n:]
	}
}

func (f *flow) begin() {
	f.AddPage()
	f.y, f.on = 0, nil
	y := paper.Margin
	for _, s := range f.running {
		s.draw(y + s.before)
		y += s.before + s.height
	}
	if len(f.running) > 0 {
		f.rule(y + headGap/3)
	}
	if f.card != nil {
		f.foot(f.card)
	}
}

func (f *flow) rule(y float64) {
	f.stroke(paperLine, 0.2)
	f.Line(paper.Margin, y, paper.Margin+f.width, y)
}

func (f *flow) stroke(c chart.Color, width float64) {
	f.SetDrawColor(int(c.R), int(c.G), int(c.B))
	f.SetLineWidth(width)
	f.SetDashPattern(nil, 0)
}

// head lays the head of each page, which is the same on all, and takes its room from the pages.
func (f *flow) head(texts []Text) {
	for _, t := range texts {
		f.lines(t.bits(), f.sizes.small, 0, 0)
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
