package document

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
)

// WritePlain writes a document for a speech program: a sentence a line, no line broken, no
// columns, no labels, words in place of signs. An error is one of w.
func WritePlain(w io.Writer, d Document) error {
	p := &plainWriter{}
	for _, b := range d.Blocks {
		p.block(b)
	}
	_, err := p.WriteTo(w)
	return err
}

type plainWriter struct{ bytes.Buffer }

func (p *plainWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		p.say(b.whole())
	case Line:
		if b.Tone == Warning && b.Label != "" {
			b.Text = append(Words(b.Label), b.Text...)
		}
		p.say(b.Text)
	case Items:
		for i, item := range b.Items {
			if b.Numbered {
				item.Text = slices.Concat(Words(fmt.Sprintf("Number %d: ", i+1)), item.Text)
			}
			p.say(item.Text)
			p.say(item.More)
		}
	case Pairs:
		for _, pair := range b.Pairs {
			p.say(append(Words(pair.lead()), pair.Text...))
		}
	case List:
		var all Text
		for _, bit := range b.bits() {
			all = slices.Concat(all, Text{blank}, bit)
		}
		p.say(all)
	case Row:
		p.say(Words(b.Aloud))
		for _, run := range b.Runs {
			p.say(Words(run.Aloud))
		}
	case Strip: // the row for a glance says the same
	case Letters:
		_ = b.Drawing.Letters(p, Look{Width: math.MaxInt, Plain: true})
	case Card:
		p.block(b.Row)
		for _, more := range b.Blocks {
			p.block(more)
		}
	case Picture:
	default:
		panic("plain: a block without a case")
	}
}

// say writes the sentences of a text. One ends at "; ", but in a name and in brackets.
func (p *plainWriter) say(text Text) {
	var sentence Text
	depth := 0
	for _, s := range text {
		s.Text = cmp.Or(s.Aloud, s.Text)
		for i := 0; !s.Name && i < len(s.Text); i++ {
			switch c := s.Text[i]; {
			case c == '(':
				depth++
			case c == ')':
				depth--
			case c == ';' && depth == 0 && (i+1 == len(s.Text) || s.Text[i+1] == ' '):
				p.line(append(sentence, Span{Text: s.Text[:i], Whole: s.Whole}))
				sentence, s.Text, i = nil, s.Text[i+1:], -1
			}
		}
		sentence = append(sentence, s)
	}
	p.line(sentence)
}

// line writes a sentence with its capital unless it begins with a name, the program's among them, and with its stop
// unless what ends it is to be copied.
func (p *plainWriter) line(sentence Text) {
	sentence = slices.DeleteFunc(sentence, func(s Span) bool { return s.Text == "" })
	first := slices.IndexFunc(sentence, func(s Span) bool { return strings.Trim(s.Text, " ") != "" })
	if first < 0 {
		return
	}
	text := strings.TrimSpace(sentence.String())
	if !sentence[first].Name && !strings.HasPrefix(text, "strandwise ") {
		text = Capital(text)
	}
	if !sentence[len(sentence)-1].Whole {
		text = stopped(text)
	}
	_, _ = p.WriteString(text + "\n")
}
