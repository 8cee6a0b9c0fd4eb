package document

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// Look is how text appears on one stream.
type Look = paint.Look

// Write writes a document as its stream wants it: as text, or in plain sentences.
func Write(w io.Writer, d Document, look Look) error {
	if look.Quiet {
		d.Blocks = slices.DeleteFunc(slices.Clone(d.Blocks), func(b Block) bool {
			line, is := b.(Line)
			return is && line.Extra
		})
	}
	if look.Plain {
		return WritePlain(w, d)
	}
	return WriteText(w, d, look)
}

// sectionIndent is how far what stands under a heading goes in, columnGap how far names of facts
// and the facts are apart, leastColumn how wide what is broken over lines must be:
// columns of a terminal, by eye.
const (
	sectionIndent = 2
	columnGap     = 2
	leastColumn   = 24
)

// WriteText writes a document to a terminal. Its title is not written: it names a page. An
// error is one of w.
func WriteText(w io.Writer, d Document, look Look) error {
	t := &textWriter{w: w, look: look, yarns: d.Yarns, apart: map[int]bool{}}
	for _, pair := range collide(look, d.Yarns) {
		t.apart[pair[1]] = true
	}
	for i, b := range d.Blocks {
		if i > 0 && standsApart(d.Blocks[i-1], b) {
			t.lines("")
		}
		t.block(b)
	}
	return t.err
}

// standsApart reports whether an empty line is between two blocks: above a heading, and above
// letters that have no heading.
func standsApart(above, below Block) bool {
	_, begins := below.(Heading)
	_, headed := above.(Heading)
	_, letters := below.(Letters)
	return begins || letters && !headed
}

type textWriter struct {
	w      io.Writer
	look   Look
	yarns  []chart.Yarn
	apart  map[int]bool // yarns, by index, that this terminal shows as it does an earlier one
	indent int
	err    error // the first failed write
}

func (t *textWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		if !b.Sub {
			t.indent = 0
		}
		t.text(t.indent, Span{}, b.whole(), Strong)
		t.indent = sectionIndent
	case Line:
		label := Span{Text: b.Label, Tone: b.Tone}
		if b.Tone == Warning && b.Label != "" {
			b.Tone = Usual
		}
		t.text(t.indent+b.Indent, label, b.Text, b.Tone)
	case Items:
		for _, line := range b.lines("") {
			t.block(line)
		}
	case Pairs:
		t.pairs(b)
	case List:
		t.list(b)
	case Row:
		t.row(b)
	case Strip:
		t.strip(b)
	case Letters:
		if t.err == nil {
			t.err = b.Drawing.Letters(t.w, t.look)
		}
	case Card:
		t.row(b.Row)
		for _, more := range b.Blocks {
			t.block(more)
		}
	case Picture:
	default:
		panic("text: a block without a case")
	}
}

// blanks are as many columns of nothing.
func blanks(columns int) Span { return Span{Text: strings.Repeat(" ", columns)} }

// lines writes finished lines.
func (t *textWriter) lines(lines ...string) {
	for _, line := range lines {
		if t.err == nil {
			_, t.err = io.WriteString(t.w, strings.TrimRight(line, " ")+"\n")
		}
	}
}

// text writes a text broken between words: the first line behind a margin and a label, the others below it.
func (t *textWriter) text(margin int, label Span, text Text, tone Tone) {
	lead := Text{blanks(margin), label}
	under := margin + paint.Width(label.Text)
	for _, line := range t.broken(text.bits(), under) {
		t.lines(t.painted(append(lead, line...), tone))
		lead = Text{blanks(under)}
	}
}

// broken is bits on lines that go in by so many columns.
func (t *textWriter) broken(bits []Text, in int) []Text {
	columns := breaker{reach: func(t Text) float64 { return float64(paint.Width(t.String())) }}
	return columns.lines(bits, float64(t.look.Width-in), 0)
}

// chip is a text on the color of a yarn, by its index.
func (t *textWriter) chip(text string, yarn int) string {
	if t.apart[yarn] {
		return t.look.Paint.YarnApart(text, t.yarns[yarn].Color)
	}
	return t.look.Paint.Yarn(text, t.yarns[yarn].Color)
}

// painted is a text in its colors; the tone is that of spans without their own. Neighbors that look alike
// are colored at once.
func (t *textWriter) painted(text Text, tone Tone) string {
	var b strings.Builder
	text = text.toned(tone)
	for i := 0; i < len(text); i++ {
		s := text[i]
		for s.Yarn == 0 && i+1 < len(text) && text[i+1].Yarn == 0 && text[i+1].Tone == s.Tone {
			i++
			s.Text += text[i].Text
		}
		switch {
		case s.Yarn > 0:
			b.WriteString(t.chip(s.Text, s.Yarn-1))
		case strings.Trim(s.Text, " ") == "":
			b.WriteString(s.Text)
		default:
			b.WriteString(t.toned(s.Text, s.Tone))
		}
	}
	return b.String()
}

func (t *textWriter) toned(text string, tone Tone) string {
	switch tone {
	case Strong:
		return t.look.Paint.Strong(text)
	case Quiet:
		return t.look.Paint.Quiet(text)
	case Warning:
		return t.look.Paint.Warn(text)
	}
	return text
}

// pairs writes the names below each other, unless that leaves too little for the texts.
func (t *textWriter) pairs(b Pairs) {
	widest := columnGap
	for _, p := range b.Pairs {
		widest = max(widest, paint.Width(p.Name)+columnGap)
	}
	for _, p := range b.Pairs {
		label, text := paint.Pad(p.Name, widest), p.Text
		if t.look.Width-t.indent-widest < leastColumn {
			label = p.lead()
		}
		if t.look.Width-t.indent-paint.Width(label) < leastColumn {
			label, text = "", append(Words(label), text...)
		}
		t.text(t.indent, Span{Text: label}, text, Usual)
	}
}

func (t *textWriter) list(b List) {
	for _, line := range t.broken(b.bits(), t.indent) {
		t.lines(t.painted(append(Text{blanks(t.indent)}, line...), Usual))
	}
}

// row writes the number on every line, so that each can be read alone.
func (t *textWriter) row(b Row) {
	prefix := b.Number + ": "
	head := strings.TrimLeft(strings.TrimPrefix(b.Head, b.Number), ",: ") // as much as the prefix leaves of it
	lead := strings.TrimSuffix(b.Head, head)
	if head == "" {
		lead = prefix
	}
	large := b.Large && t.look.Paint.Colors()
	bits := Words(head).bits()
	for _, run := range b.Runs {
		if large {
			run.Text = padded(run.Text)
		}
		bits = append(bits, run.Text)
	}
	for _, line := range t.broken(bits, paint.Width(prefix)) {
		line = append(Words(lead), line...)
		lead = prefix
		if large {
			t.lines(t.edge(line))
		}
		t.lines(t.painted(line, Strong))
		if large {
			t.lines(t.edge(line), "") // chips one below the other would run into one
		}
	}
}

// edge is the upper or lower edge of the chips in a line: blanks on the colors of their yarns.
func (t *textWriter) edge(line Text) string {
	edge := slices.Clone(line)
	for i, s := range edge {
		edge[i].Text = blanks(paint.Width(s.Text)).Text
	}
	return t.painted(edge, Usual)
}

// padded is a text with blanks around what stands on the color of a yarn.
func padded(text Text) Text {
	wide := slices.Clone(text)
	for i := range wide {
		if wide[i].Yarn > 0 {
			wide[i].Text = " " + wide[i].Text + " "
		}
	}
	return wide
}

// Alike tells which of the yarns look the same on this terminal, which has one color for both,
// and how to tell them apart; empty where none do.
func Alike(l Look, yarns []chart.Yarn) string {
	var pairs []string
	for _, p := range collide(l, yarns) {
		a, b := yarns[p[0]], yarns[p[1]]
		pairs = append(pairs, fmt.Sprintf("%s (%c) and %s (%c)", a.Name, a.Symbol, b.Name, b.Symbol))
	}
	if len(pairs) == 0 {
		return ""
	}
	return "the same color on this terminal: " + strings.Join(pairs, "; ") + "; go by the symbols"
}

// collide lists the pairs of yarns, by index, that look alike on a terminal though they are not.
func collide(l Look, yarns []chart.Yarn) [][2]int {
	var colors []chart.Color
	for _, y := range yarns {
		colors = append(colors, y.Color)
	}
	return l.Paint.Collide(colors)
}
