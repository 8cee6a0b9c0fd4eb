package render

import (
	"fmt"
	"io"
	"strings"

	"strandwise/cmd/paint"
)

// prose gathers headed paragraphs and lists that fit the width.
type prose struct {
	look Look
	text strings.Builder
}

// heading begins a section: a strong line after an empty one.
func (p *prose) heading(text string) {
	p.gap()
	for _, line := range paint.Wrap("", paint.Pieces(strings.Fields(text)...), p.look.Width) {
		p.text.WriteString(p.look.Paint.Strong(line) + "\n")
	}
}

func (p *prose) gap() {
	if p.text.Len() > 0 {
		p.text.WriteByte('\n')
	}
}

// paragraph breaks text between words.
func (p *prose) paragraph(format string, args ...any) { p.wrapped("", fmt.Sprintf(format, args...)) }

// item is a paragraph below a heading, set in by two columns.
func (p *prose) item(format string, args ...any) { p.wrapped(p.indent(), fmt.Sprintf(format, args...)) }

// quiet is an item that steps back.
func (p *prose) quiet(format string, args ...any) {
	words := strings.Fields(fmt.Sprintf(format, args...))
	for _, line := range paint.Wrap("", paint.Pieces(words...), p.look.Width-len(p.indent())) {
		p.text.WriteString(p.indent() + p.look.Paint.Quiet(line) + "\n")
	}
}

// pieces is an item whose pieces are never broken.
func (p *prose) pieces(lead string, pieces []string) {
	for _, line := range paint.Wrap(p.indent(), paint.Pieces(append([]string{lead}, pieces...)...), p.look.Width) {
		p.text.WriteString(line + "\n")
	}
}

func (p *prose) wrapped(prefix, text string) {
	for _, line := range paint.Wrap(prefix, paint.Pieces(strings.Fields(text)...), p.look.Width) {
		p.text.WriteString(line + "\n")
	}
}

func (p *prose) indent() string {
	if p.look.Plain {
		return ""
	}
	return "  "
}

func (p *prose) writeTo(w io.Writer) error {
	_, err := io.WriteString(w, p.text.String())
	return err
}

// commas parts the members of a list so that a line may break after each.
func commas(members []string) []string {
	parted := make([]string, len(members))
	for i, m := range members {
		if i < len(members)-1 {
			m += ","
		}
		parted[i] = m
	}
	return parted
}

// ranges writes ascending numbers with neighbors joined: 2, 3, 5 to 9.
func ranges(numbers []int) []string {
	var words []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		switch j - i {
		case 0:
			words = append(words, fmt.Sprint(numbers[i]))
		case 1:
			words = append(words, fmt.Sprint(numbers[i]), fmt.Sprint(numbers[j]))
		default:
			words = append(words, fmt.Sprintf("%d to %d", numbers[i], numbers[j]))
		}
		i = j + 1
	}
	return words
}

// count is a number with its noun: 1 stitch, 2 stitches.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	if strings.HasSuffix(noun, "ch") {
		noun += "e"
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
