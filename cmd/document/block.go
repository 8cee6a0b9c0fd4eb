// Package document is what an answer says, as a list of blocks, and the writers of blocks:
// text for a terminal, plain sentences for a speech program, an HTML page, a PDF. In comes a
// Document, which knows nothing of where it is going; out go bytes. The writers know blocks
// and nothing of the commands that made them, so that every sentence and every number of an
// answer exists once, whoever reads it.
package document

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paper"
)

// Document is one answer in words.
type Document struct {
	Title  string
	Large  bool         // on pages: for low vision, in large letters, black on white
	Head   []Text       // at the head of each page of paper, and of a page as a whole; may be empty
	Yarns  []chart.Yarn // that the spans tell by index
	Blocks []Block
}

// Block is one of a closed set: Heading, Line, Pairs, Items, List, Row, Strip, Letters, Picture, Card.
// Every writer has a case for each, which a test holds.
type Block interface{ isBlock() }

// Tone is how much a text stands out.
type Tone uint8

// The tones: as it is, above all else, stepping back, a warning. The words of a warning say so too.
const (
	Usual Tone = iota
	Strong
	Quiet
	Warning
)

// Span is a stretch of text that looks alike.
type Span struct {
	Text  string
	Aloud string // said in its stead where signs are not heard; empty where the text is heard as it is
	Tone  Tone
	Yarn  int  // from 1: it stands on the color of that yarn of the document; 0 for none
	Whole bool // no line is broken within it, and no stop is put behind it: it may be a command to copy
	Name  bool // spelled by its owner: keeps its letters, and is one whatever signs are in it
}

// Text is spans one after another; the spaces between them are theirs.
type Text []Span

// Words is a text without anything special.
func Words(text string) Text { return Text{{Text: text}} }

// Named is a name and the words behind it.
func Named(name, text string) Text { return Text{{Text: name, Name: true}, {Text: text}} }

// Verbatim is a text to copy: a command, a path.
func Verbatim(text string) Text { return Text{{Text: text, Name: true, Whole: true}} }

// String is the text as it is seen, without tones and colors.
func (t Text) String() string {
	var b strings.Builder
	for _, s := range t {
		b.WriteString(s.Text)
	}
	return b.String()
}

// toned is the text in a tone, but for spans that have their own.
func (t Text) toned(tone Tone) Text {
	t = slices.Clone(t)
	for i := range t {
		if t[i].Tone == Usual {
			t[i].Tone = tone
		}
	}
	return t
}

// bits are what no line is broken within, without the blanks between them. Spans that touch are in one.
func (t Text) bits() []Text { return t.split(func(s Span) bool { return s.Whole || s.Yarn > 0 }) }

// split parts a text at its blanks, but in the spans to keep.
func (t Text) split(keep func(Span) bool) []Text {
	var all []Text
	joins := false // what comes next is in the last bit
	for _, s := range t {
		words := []string{s.Text}
		if !keep(s) {
			words = strings.Split(s.Text, " ")
		}
		for i, word := range words {
			joins = joins && i == 0
			if s.Text = word; word == "" {
				continue
			}
			if !joins {
				all = append(all, nil)
			}
			last := len(all) - 1
			all[last] = append(all[last], s)
			joins = true
		}
	}
	return all
}

// Heading begins a section, which ends with the next one.
type Heading struct {
	Text Text
	Sum  Text // the section in a few words: behind the heading on a terminal, below it on a page; may be empty
	Sub  bool // it begins a part of the section, and goes in with it
}

func (h Heading) whole() Text {
	if len(h.Sum) == 0 {
		return h.Text
	}
	return slices.Concat(h.Text, Words(": "), h.Sum)
}

// Line is a statement, or several parted by "; ": on a page a paragraph, aloud a sentence
// each. Lines after its first go in as far as the label is wide; the label (a number, a
// sign) is not said aloud, but that of a warning, which stands out alone.
type Line struct {
	Label  string
	Text   Text
	Tone   Tone
	Indent int  // columns of a terminal, within its section
	Extra  bool // tells what was done or what comes next: left out where a knitter wants quiet
}

// Act tells what a command did.
func Act(text Text) Line { return Line{Text: text, Extra: true} }

// Next tells what to do next, with the command to copy.
func Next(text string) Line { return Act(Verbatim(text)) }

// Items are statements of one kind, each beginning a line; a page makes a list of them.
type Items struct {
	Numbered bool // from 1; the numbers are told aloud too, since others refer to them
	Indent   int  // columns of a terminal, within the section
	Items    []Item
}

// Item is a statement and what else is to be said of it, which begins a line of its own. On a page
// it leads to a place in a picture, by that place's name, and has a drawing; either may be missing.
type Item struct {
	Text, More Text
	Place      string
	Drawing    Drawing
}

// lines are the items as lines behind their numbers, or the sign.
func (b Items) lines(sign string) []Line {
	var lines []Line
	for i, item := range b.Items {
		if b.Numbered {
			sign = fmt.Sprintf("%d. ", i+1)
		}
		lines = append(lines, Line{Label: sign, Text: item.Text, Indent: b.Indent},
			Line{Label: strings.Repeat(" ", len(sign)), Text: item.More, Indent: b.Indent})
	}
	return lines
}

// Pairs are facts with their names, the names below each other.
type Pairs struct{ Pairs []Pair }

// Pair is a name and what is so called.
type Pair struct {
	Name string
	Text Text
}

// lead is the name in front of the text; a pair without one goes on with the pair above.
func (p Pair) lead() string {
	if p.Name == "" {
		return ""
	}
	return p.Name + ": "
}

// List is members of one kind, each not broken where it fits a line: "rounds 1 to 4: none;
// round 5: oat 8". Aloud those parted by ";" are a sentence each, others one together.
type List struct {
	Lead    string // in front of the first; may be empty
	Between string // behind each but the last: "," or ";"
	Members []Text
}

// bits are what no line is broken within where it fits.
func (b List) bits() []Text {
	bits := Words(b.Lead).bits()
	for i, member := range b.Members {
		if i < len(b.Members)-1 {
			member = append(slices.Clone(member), Span{Text: b.Between})
		}
		bits = append(bits, member)
	}
	return bits
}

// Row is a row of knitting for a glance. A line may break between any two of its runs, and in
// a run that is wider than a line, and carries the number again.
type Row struct {
	Number string
	Head   string // begins the first line, with the number in it
	Aloud  string // said before the runs
	Runs   []Run
	Large  bool // on a terminal the runs are large chips, with room around
}

// Run is one run of a row; the sign behind it is its own.
type Run struct {
	Text  Text
	Aloud string
}

// Letters is a chart as letters on a terminal, and in sentences aloud. Pages have a picture in its stead.
type Letters struct{ Drawing Lettering }

// Lettering writes itself for a stream; plainly where the look says so.
type Lettering interface {
	Letters(w io.Writer, look Look) error
}

// Card is a row to work from on a page, with a box to tick when it is done, and what else is to
// be known of it. On paper a card is not broken over pages where it fits one.
type Card struct {
	Row      Row
	Word     string // round or row
	Part     string // of the piece
	Stitches int    // of the row
	Ticks    []Tick // at least one; one for each row of several that are alike
	Blocks   []Block
}

// Tick is a box to tick when a row is done.
type Tick struct {
	Row  int // from 1
	Done bool
}

// Picture is a drawing. Only pages have room for it.
type Picture struct{ Drawing Drawing }

// Drawing writes itself as an SVG element that stands in a page, with its name and
// description in it, every id in it beginning with the prefix; and into a PDF.
type Drawing interface {
	SVG(w io.Writer, prefix string) error
	Size() (width, height float64)          // mm, above 0
	PDF(b *paper.Book, x, y, scale float64) // on the current page, from its upper left corner, in mm
}

func (Heading) isBlock() {}
func (Line) isBlock()    {}
func (Items) isBlock()   {}
func (Picture) isBlock() {}
func (Pairs) isBlock()   {}
func (List) isBlock()    {}
func (Row) isBlock()     {}
func (Letters) isBlock() {}
func (Card) isBlock()    {}
