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
	edge   bool  // texts are blanks on the colors of their yarns: the upper and lower edges of chips
	err    error // the first failed write
}

func (t *textWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		if !b.Sub {
			t.indent = 0
		}
		t.text(t.margin(), t.margin(), b.whole(), Strong)
		t.indent = sectionIndent
	case Line:
		margin := t.margin() + strings.Repeat(" ", b.Indent)
		under := margin + blanks(b.Label)
		if b.Tone == Warning && b.Label != "" {
			b.Label, b.Tone = t.look.Paint.Warn(b.Label), Usual
		}
		t.text(margin+b.Label, under, b.Text, b.Tone)
	case Items:
		t.items(b)
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

func (t *textWriter) margin() string { return strings.Repeat(" ", t.indent) }

func blanks(label string) string { return strings.Repeat(" ", paint.Width(label)) }

// lines writes finished lines.
func (t *textWriter) lines(lines ...string) {
	for _, line := range lines {
		if t.err == nil {
			_, t.err = io.WriteString(t.w, strings.TrimRight(line, " ")+"\n")
		}
	}
}

// text writes a text broken between words: the first line behind label, the others
// behind under, which is as wide.
func (t *textWriter) text(label, under string, text Text, tone Tone) {
	alike := true // one style sets the whole line, blanks and all
	for _, s := range text {
		alike = alike && s.Yarn == 0 && s.Tone == Usual
	}
	words := tone
	if alike {
		words = Usual
	}
	lines := paint.Wrap(under, t.pieces(text, words), t.look.Width)
	for i, line := range lines {
		if i == 0 {
			line = label + line[len(under):]
		}
		if alike {
			line = t.toned(line, tone)
		}
		lines[i] = line
	}
	t.lines(lines...)
}

// pieces are the bits of a text; the tone is that of spans without their own.
func (t *textWriter) pieces(text Text, tone Tone) []paint.Span {
	var pieces []paint.Span
	for _, bit := range text.bits() {
		pieces = append(pieces, t.piece(bit, tone))
	}
	return pieces
}

// whole is a text as one piece, broken between words where it is wider than a line.
func (t *textWriter) whole(text Text, tone Tone, width int) []paint.Span {
	if paint.Width(text.String()) > width {
		return t.pieces(text, tone)
	}
	return []paint.Span{t.piece(text, tone)}
}

func (t *textWriter) piece(bits Text, tone Tone) paint.Span {
	return paint.Span{Text: bits.String(), Style: func(string) string { return t.painted(bits, tone) }}
}

// chip is a text on the color of a yarn, by its index.
func (t *textWriter) chip(text string, yarn int) string {
	if t.apart[yarn] {
		return t.look.Paint.YarnApart(text, t.yarns[yarn].Color)
	}
	return t.look.Paint.Yarn(text, t.yarns[yarn].Color)
}

// painted is a text in its colors.
func (t *textWriter) painted(text Text, tone Tone) string {
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		s := text[i]
		for s.Yarn == 0 && i+1 < len(text) && text[i+1].Yarn == 0 && text[i+1].Tone == s.Tone {
			i++
			s.Text += text[i].Text
		}
		if t.edge {
			s.Text = strings.Repeat(" ", paint.Width(s.Text))
		}
		switch {
		case s.Yarn > 0:
			b.WriteString(t.chip(s.Text, s.Yarn-1))
		case s.Tone == Usual:
			b.WriteString(t.toned(s.Text, tone))
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

func (t *textWriter) items(b Items) {
	margin := t.margin() + strings.Repeat(" ", b.Indent)
	for i, item := range b.Items {
		number := ""
		if b.Numbered {
			number = fmt.Sprintf("%d. ", i+1)
		}
		under := margin + blanks(number)
		t.text(margin+number, under, item.Text, Usual)
		t.text(under, under, item.More, Usual)
	}
}

// pairs writes the names below each other, unless that leaves too little for the texts.
func (t *textWriter) pairs(b Pairs) {
	widest := 0
	for _, p := range b.Pairs {
		widest = max(widest, paint.Width(p.Name))
	}
	for _, p := range b.Pairs {
		label, under := t.margin()+paint.Pad(p.Name, widest+columnGap), t.margin()+strings.Repeat(" ", widest+columnGap)
		if t.look.Width-paint.Width(under) < leastColumn {
			label, under = t.margin()+p.lead(), t.margin()+blanks(p.lead())
			if t.look.Width-paint.Width(under) < leastColumn {
				t.text(t.margin(), t.margin(), append(Words(p.lead()), p.Text...), Usual)
				continue
			}
		}
		t.text(label, under, p.Text, Usual)
	}
}

func (t *textWriter) list(b List) {
	pieces := t.pieces(Words(b.Lead), Usual)
	for i, m := range b.Members {
		if i < len(b.Members)-1 {
			m = append(m[:len(m):len(m)], Span{Text: b.Between})
		}
		pieces = append(pieces, t.whole(m, Usual, t.look.Width-t.indent)...)
	}
	t.lines(paint.Wrap(t.margin(), pieces, t.look.Width)...)
}

// row writes the number on every line, so that each can be read alone.
func (t *textWriter) row(b Row) {
	prefix := b.Number + ": "
	head := strings.TrimLeft(strings.TrimPrefix(b.Head, b.Number), ",: ") // as much as the prefix leaves of it
	var pieces []paint.Span
	if head != "" {
		pieces = append(pieces, t.piece(Words(head), Strong))
	}
	large := b.Large && t.colors()
	for _, run := range b.Runs {
		text := run.Text
		if large {
			text = padded(text)
		}
		pieces = append(pieces, t.whole(text, Strong, t.look.Width-paint.Width(prefix))...)
	}
	var edges []string
	if large {
		t.edge = true
		edges = paint.Wrap(blanks(prefix), pieces, t.look.Width)
		t.edge = false
	}
	for i, line := range paint.Wrap(prefix, pieces, t.look.Width) {
		if large {
			t.lines(edges[i])
		}
		begins := prefix
		if i == 0 {
			begins = strings.TrimSuffix(b.Head, head)
			if head == "" {
				begins += " "
			}
		}
		t.lines(t.look.Paint.Strong(begins) + line[len(prefix):])
		if large {
			t.lines(edges[i], "") // chips one below the other would run into one
		}
	}
}

// colors reports whether yarns are told by color here.
func (t *textWriter) colors() bool { return len(t.yarns) > 0 && t.chip(" ", 0) != " " }

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
