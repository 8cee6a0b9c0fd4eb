package document

import (
	"fmt"
	"io"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paper"
)

// A document on paper is a column of lines and drawings. The lines of a block are gathered
// first and then set: whatever fits a page is not broken over two. A section begins a page.

// sizes of letters in mm, from the row for a glance down to the small print.
type sizes struct {
	glance, text, small float64
	box                 float64 // to tick
}

// usualSizes are for a page at arm's length.
var usualSizes = sizes{glance: 6, text: 3.6, small: 3.1, box: 6}

// largeSizes are 24 points throughout, for low vision; largeFoot is what the foot of the page takes
// more for them.
var largeSizes = sizes{glance: 24 * point, text: 24 * point, small: 24 * point, box: 24 * point}

const (
	point     = 25.4 / 72
	largeFoot = 6.0
)

// What a line takes of its letters; what is free between two drawings or cards.
const (
	lineHeight = 1.35
	betweens   = 5.0
	labelBlank = 1.5 // a blank in front of a label
)

var (
	paperBlack = chart.Color{R: 0x1A, G: 0x1A, B: 0x1A}
	paperLine  = chart.Color{R: 0xC8, G: 0xC8, B: 0xC8}
)

// WritePDF writes a document on paper. Its title stands at the foot of each page. The same
// document gives the same bytes. An error is one of w.
func WritePDF(w io.Writer, d Document, p paper.Paper) error {
	f := &flow{Book: paper.NewBook(d.Title, p), yarns: d.Yarns, sizes: usualSizes}
	f.width, f.height = p.Room()
	if d.Large {
		f.sizes = largeSizes
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
	on            onPage
	card          *Card // that is being set
}

// setting is a line of text or a drawing that is to be set.
type setting struct {
	text    string
	size    float64
	bold    bool
	x       float64 // within the room
	before  float64 // free above it, but at the top of a page
	height  float64
	drawing Drawing
	scale   float64
	ticks   []Tick
	yarn    int   // its color stands in front
	card    *Card // begins with it
	ends    bool  // a card: a thin line stands below
}

func (f *flow) block(b Block) {
	switch b := b.(type) {
	case Heading:
		f.heading(b)
	case Line:
		f.text(b.Label, b.Text, b.Tone)
	case Items:
		for i, item := range b.Items {
			f.text(map[bool]string{true: fmt.Sprintf("%d. ", i+1), false: "- "}[b.Numbered], item.Text, Usual)
			f.text("   ", item.More, Usual)
		}
	case Pairs:
		for _, pair := range b.Pairs {
			f.text("", append(Words(pair.Name+": "), pair.Text...), Usual)
		}
	case List:
		f.text("", joined(Words(b.Lead+" "), b.Members, b.Between+" "), Usual)
	case Row:
		f.lines(b.unbroken(), f.sizes.text, true, 0, 3)
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
	f.lines(b.Text.unbroken(), size, true, 0, 0)
	f.text("", b.Sum, Usual)
}

func (f *flow) picture(d Drawing) {
	width, height := d.Size()
	scale := min(1, (f.width-f.inset)/width, f.height/height)
	before := betweens
	if f.inset > 0 {
		before = 1.2
	}
	f.held = append(f.held, setting{drawing: d, scale: scale, x: f.inset, before: before, height: height * scale})
}

// card has number and row large, beside a box to tick, and the rest small.
func (f *flow) carded(b Card) {
	f.inset = f.sizes.box + 3
	f.lines(b.Row.unbroken(), f.sizes.glance, true, 0, 4)
	first := &f.held[0]
	first.card, first.before = &b, betweens/2
	f.boxes(b.Ticks)
	for _, more := range b.Blocks {
		f.block(more)
	}
	f.held[len(f.held)-1].ends = true
	f.inset = 0
}

// text is a statement behind its label. What steps back is small, what stands out bold.
func (f *flow) text(label string, text Text, tone Tone) {
	words := text.unbroken()
	if words == "" {
		return
	}
	size := f.sizes.text
	if tone == Quiet {
		size = f.sizes.small
	}
	bold := tone == Strong || tone == Warning
	sign := strings.TrimSpace(label)
	if sign != "" {
		sign += noBreak
	}
	f.Letters(size, bold)
	blanks := len(label) - len(strings.TrimLeft(label, " "))
	f.lines(sign+words, size, bold, float64(blanks)*labelBlank, f.Reach(sign))
}

// lines holds the lines of a text, which after the first go in by hang.
func (f *flow) lines(text string, size float64, bold bool, indent, hang float64) {
	f.Letters(size, bold)
	x, line, above := f.inset+indent, "", 0.6
	end := func() {
		if line = strings.Trim(line, " "+noBreak); line != "" {
			line = strings.ReplaceAll(line, noBreak, " ")
			f.held = append(f.held, setting{text: line, size: size, bold: bold, x: x, before: above, height: size * lineHeight})
			x, line, above = f.inset+indent+hang, "", 0
		}
	}
	for _, bit := range f.bits(text, " ", f.width-x-hang) {
		if line != "" && f.Reach(line+bit) > f.width-x {
			end()
			bit = strings.TrimLeft(bit, " "+noBreak)
		}
		line += bit
	}
	end()
}

// bits are what no line is broken within: words, of one wider than the room its parts between
// blanks that are usually kept, and of a part still wider its letters. Each has the blank in
// front of it.
func (f *flow) bits(text, blank string, room float64) []string {
	finer := map[string]string{" ": noBreak, noBreak: ""}[blank]
	var all []string
	for i, word := range strings.Split(text, blank) {
		bits := []string{word}
		if blank != "" && f.Reach(word) > room {
			bits = f.bits(word, finer, room)
		}
		if i > 0 {
			bits[0] = blank + bits[0]
		}
		all = append(all, bits...)
	}
	return all
}

// set sets what is held, on a new page where this has no room for all of it.
func (f *flow) set() {
	total := 0.0
	for _, s := range f.held {
		total += s.before + s.height
	}
	if f.y+total > f.height && f.y > 0 && len(f.held) > 0 {
		f.begin()
	}
	for _, s := range f.held {
		if f.y+s.before+s.height > f.height && f.y > 0 {
			f.begin()
		}
		f.setOne(s)
	}
	f.held = nil
}

func (f *flow) begin() {
	f.AddPage()
	f.y, f.on = 0, onPage{}
	f.setHead()
	if f.card != nil {
		f.foot(f.card)
	}
}

func (f *flow) setOne(s setting) {
	if f.y > 0 {
		f.y += s.before
	}
	if s.card != nil {
		if len(s.card.Ticks) == 1 {
			f.box(0, f.top+f.y, s.card.Ticks[0].Done)
		}
		f.foot(s.card)
		f.card = s.card
	}
	left, top := paper.Margin+s.x, f.top+f.y
	f.y += s.height
	if s.ticks != nil {
		f.ticks(s.ticks, s.x, top)
	} else if s.drawing != nil {
		s.drawing.PDF(f.Book, left, top, s.scale)
	} else {
		f.write(s, left, top+s.height)
	}
	if s.ends {
		f.card = nil
		f.stroke(paperLine, 0.2)
		f.y += betweens / 2
		f.Line(paper.Margin, f.top+f.y, paper.Margin+f.width, f.top+f.y)
	}
}

// stroke sets the stroke of the line to come.
func (f *flow) stroke(c chart.Color, width float64) {
	f.SetDrawColor(int(c.R), int(c.G), int(c.B))
	f.SetLineWidth(width)
	f.SetDashPattern(nil, 0)
}

// noBreak is the blank at which no line is broken.
const noBreak = "\u00A0"

// unbroken is the text, with such blanks in what is whole.
func (t Text) unbroken() string {
	var b strings.Builder
	for _, s := range t {
		if s.Whole {
			s.Text = strings.ReplaceAll(s.Text, " ", noBreak)
		}
		b.WriteString(s.Text)
	}
	return b.String()
}

// unbroken is the row, broken between its runs.
func (b Row) unbroken() string {
	text := b.Head
	for _, run := range b.Runs {
		text += " " + strings.ReplaceAll(run.Text.String(), " ", noBreak)
	}
	return text
}
