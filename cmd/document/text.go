package document

import (
	"bytes"
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

// WriteText writes a document to a terminal, without its title. An error is one of w.
func WriteText(w io.Writer, d Document, look Look) error {
	t := &textWriter{w: &bytes.Buffer{}, look: look, yarns: d.Yarns, apart: map[int]bool{}}
	for _, pair := range look.Paint.Collide(d.Yarns) {
		t.apart[pair[1]] = true
	}
	for i, b := range d.Blocks {
		if i > 0 && standsApart(d.Blocks[i-1], b) {
			t.lines("")
		}
		t.block(b)
	}
	_, err := t.w.WriteTo(w)
	return err
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
	w      *bytes.Buffer // written as a whole, so that no code or letter is cut in two
	look   Look
	yarns  []chart.Yarn
	apart  map[int]bool // yarns, by index, that this terminal shows as it does an earlier one
	indent int
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
		margin := Text{blanks(t.indent)}
		t.set(margin, margin, b.bits(), Usual, false)
	case Row:
		t.row(b)
	case Strip:
		t.strip(b)
	case Letters:
		_ = b.Drawing.Letters(t.w, t.look)
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

func blanks(columns int) Span { return Span{Text: strings.Repeat(" ", columns)} }

func (t *textWriter) lines(lines ...string) {
	for _, line := range lines {
		_, _ = t.w.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// text writes a text broken between words: the first line behind a margin and a label, the others below it.
func (t *textWriter) text(margin int, label Span, text Text, tone Tone) {
	under := blanks(margin + paint.Width(label.Text))
	t.set(Text{blanks(margin), label}, Text{under}, text.bits(), tone, false)
}

// set writes bits on lines, the first behind a lead, the others behind one as wide. Lines of large chips
// have room around.
func (t *textWriter) set(lead, under Text, bits []Text, tone Tone, large bool) {
	columns := breaker{reach: func(t Text) float64 { return float64(paint.Width(t.String())) }}
	for _, line := range columns.lines(bits, float64(t.look.Width)-columns.reach(under), 0) {
		line = slices.Concat(lead, line)
		lead = under
		if !large {
			t.lines(t.painted(line, tone))
			continue
		}
		edge := t.edge(line)
		t.lines(edge, t.painted(line, tone), edge, "") // chips one below the other would run into one
	}
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
	p := t.look.Paint
	styles := [...]func(string) string{Strong: p.Strong, Quiet: p.Quiet, Warning: p.Warn}
	for i := 0; i < len(text); i++ {
		s := text[i]
		for s.Yarn == 0 && i+1 < len(text) && text[i+1].Yarn == 0 && text[i+1].Tone == s.Tone {
			i++
			s.Text += text[i].Text
		}
		switch {
		case s.Yarn > 0:
			b.WriteString(t.chip(s.Text, s.Yarn-1))
		case s.Tone == Usual || strings.Trim(s.Text, " ") == "":
			b.WriteString(s.Text)
		default:
			b.WriteString(styles[s.Tone](s.Text))
		}
	}
	return b.String()
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
	t.set(Words(lead), Words(prefix), bits, Strong, large)
}

// edge is the upper or lower edge of the chips in a line: blanks on the colors of their yarns.
func (t *textWriter) edge(line Text) string {
	edge := slices.Clone(line)
	for i, s := range edge {
		edge[i].Text = blanks(paint.Width(s.Text)).Text
	}
	return t.painted(edge, Usual)
}

func padded(text Text) Text {
	wide := slices.Clone(text)
	for i := range wide {
		if wide[i].Yarn > 0 {
			wide[i].Text = " " + wide[i].Text + " "
		}
	}
	return wide
}

// Alike tells which yarns this terminal shows alike, and how to tell them apart; "" for none.
func Alike(l Look, yarns []chart.Yarn) string {
	var pairs []string
	for _, p := range l.Paint.Collide(yarns) {
		a, b := yarns[p[0]], yarns[p[1]]
		pairs = append(pairs, fmt.Sprintf("%s (%c) and %s (%c)", a.Name, a.Symbol, b.Name, b.Symbol))
	}
	if len(pairs) == 0 {
		return ""
	}
	return "the same color on this terminal: " + strings.Join(pairs, "; ") + "; go by the symbols"
}
