package draw

import (
	"bufio"
	"fmt"
	"html"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"strandwise/chart"
)

// xmlHeader begins a file of XML.
const xmlHeader = `<?xml version="1.0" encoding="UTF-8"?>` + "\n"

// SVG writes a scene as an SVG 1.1 drawing that stands alone. The same scene gives
// the same bytes.
func SVG(w io.Writer, s *Scene) error {
	if _, err := io.WriteString(w, xmlHeader); err != nil {
		return err
	}
	return Element(w, s, "p")
}

// Element writes the element of SVG alone, as it stands in a page of HTML. Its ids begin with
// the prefix, so that several drawings can stand in one page.
func Element(w io.Writer, s *Scene, prefix string) error {
	v := &svgWriter{w: bufio.NewWriter(w), prefix: prefix}
	v.writef(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%smm" height="%smm" role="img" aria-labelledby="%s-name" aria-describedby="%s-about">`+"\n",
		number(s.Width), number(s.Height), number(s.Width), number(s.Height), prefix, prefix)
	v.writef("<title id=\"%s-name\">%s</title>\n", prefix, escaped(s.Name))
	v.writef("<desc id=\"%s-about\">%s</desc>\n", prefix, escaped(s.Description))
	v.writef("<rect width=\"%s\" height=\"%s\" fill=\"#FFFFFF\"/>\n", number(s.Width), number(s.Height))
	for i := range s.Shapes {
		v.shape(&s.Shapes[i])
	}
	v.endGroup()
	v.endClip()
	v.writef("</svg>\n")
	return v.w.Flush()
}

type svgWriter struct {
	w        *bufio.Writer
	prefix   string
	group    string // opening tag of the group that is open, or ""
	last     Shape  // the shape the group was opened for, as far as its tag goes
	clips    int
	clipping bool
	scratch  []byte
}

func (v *svgWriter) writef(format string, args ...any) { fmt.Fprintf(v.w, format, args...) }

func (v *svgWriter) shape(s *Shape) {
	if s.Kind == Clip {
		v.clip(s)
		return
	}
	if v.group == "" || !sameGroup(s, &v.last) {
		v.endGroup()
		v.group, v.last = groupTag(s), *s
		v.writef("%s\n", v.group)
	}
	v.element(s)
}

// element writes the element of a shape. There may be a hundred thousand of them, so it is put
// together without formatting.
func (v *svgWriter) element(s *Shape) {
	p, b := s.Points, v.scratch[:0]
	switch s.Kind {
	case Box:
		b = appendLength(append(b, "<rect"...), " x", p[0].X)
		b = appendLength(b, " y", p[0].Y)
		b = appendLength(b, " width", p[1].X-p[0].X)
		b = appendLength(b, " height", p[1].Y-p[0].Y)
	case Disc:
		b = appendLength(append(b, "<circle"...), " cx", p[0].X)
		b = appendLength(appendLength(b, " cy", p[0].Y), " r", s.Radius)
	case Label:
		b = appendLength(append(b, "<text"...), " x", p[0].X)
		b = appendLength(b, " y", p[0].Y)
	default:
		b = append(appendPath(append(b, `<path d="`...), s), '"')
	}
	for _, d := range s.Data {
		b = append(append(append(append(b, " data-"...), d.Name...), `="`...), escaped(d.Value)...)
		b = append(b, '"')
	}
	if s.Kind == Label {
		b = append(append(append(b, '>'), escaped(s.Text)...), "</text>\n"...)
	} else {
		b = append(b, "/>\n"...)
	}
	_, _ = v.w.Write(b) // Flush tells
	v.scratch = b
}

func appendLength(b []byte, name string, v float64) []byte {
	return append(appendNumber(append(append(b, name...), `="`...), v), '"')
}

func (v *svgWriter) endGroup() {
	if v.group != "" {
		v.writef("</g>\n")
		v.group = ""
	}
}

func (v *svgWriter) clip(s *Shape) {
	v.endGroup()
	v.endClip()
	if len(s.Points) == 0 {
		return
	}
	v.clips++
	id := fmt.Sprintf("%s-clip%d", v.prefix, v.clips)
	a, b := s.Points[0], s.Points[1]
	v.writef("<clipPath id=\"%s\"><rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/></clipPath>\n<g clip-path=\"url(#%s)\">\n",
		id, number(a.X), number(a.Y), number(b.X-a.X), number(b.Y-a.Y), id)
	v.clipping = true
}

func (v *svgWriter) endClip() {
	if v.clipping {
		v.writef("</g>\n")
		v.clipping = false
	}
}

// sameGroup reports whether two shapes have one class and one paint.
func sameGroup(a, b *Shape) bool {
	letters := a.Kind == Label
	return a.Class == b.Class && letters == (b.Kind == Label) && sameOrNone(a.Fill, b.Fill) && sameOrNone(a.Stroke, b.Stroke) &&
		a.Width == b.Width && a.Dash == b.Dash && (!letters || a.Size == b.Size && a.Align == b.Align && a.Bold == b.Bold)
}

func sameOrNone(a, b *chart.Color) bool { return a == b || same(a, b) }

// groupTag is the tag that gives a shape its class and paint.
func groupTag(s *Shape) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<g class="%s" fill="%s"`, s.Class, colorOr(s.Fill))
	if s.Stroke != nil {
		fmt.Fprintf(&b, ` stroke="%s" stroke-width="%s"`, s.Stroke, number(s.Width))
		if s.Dash > 0 {
			fmt.Fprintf(&b, ` stroke-dasharray="%s"`, number(s.Dash))
		} else {
			b.WriteString(` stroke-linecap="round" stroke-linejoin="round"`)
		}
	}
	if s.Kind == Label {
		fmt.Fprintf(&b, ` font-family="sans-serif" font-size="%s" text-anchor="%s"`, number(s.Size), [...]string{"start", "middle", "end"}[s.Align])
		if s.Bold {
			b.WriteString(` font-weight="bold"`)
		}
	}
	b.WriteString(">")
	return b.String()
}

func colorOr(c *chart.Color) string {
	if c == nil {
		return "none"
	}
	return c.String()
}

func appendPath(b []byte, s *Shape) []byte {
	for i, p := range s.Points {
		letter := byte(' ') // the second point of a bow
		switch {
		case i == 0:
			letter = 'M'
		case s.Kind == Line:
			letter = 'L'
		case i%2 == 1:
			letter = 'Q'
		}
		b = append(appendNumber(append(b, letter), p.X), ' ')
		b = appendNumber(b, p.Y)
	}
	return b
}

// number is a length with at most two decimals.
func number(v float64) string { return string(appendNumber(nil, v)) }

func appendNumber(b []byte, v float64) []byte {
	b = strconv.AppendFloat(b, v, 'f', 2, 64)
	b = b[:len(b)-trailing(b)]
	if slices.Equal(b, []byte("-0")) {
		return []byte("0")
	}
	return b
}

// trailing counts the zeros at the end of two decimals, and the point when nothing is
// left behind it.
func trailing(b []byte) int {
	switch n := len(b); {
	case b[n-1] != '0':
		return 0
	case b[n-2] != '0':
		return 1
	}
	return 3
}

// unusual reports a character that may need escaping.
func unusual(r rune) bool {
	return r < ' ' || r == utf8.RuneError || r > 0xD7FF || strings.ContainsRune(`<>&'"`, r)
}

// escaped is text as it may stand between tags and in attributes. XML has no way to write
// some control characters (Extensible Markup Language 1.0, 2.2); a sign that something is
// missing stands for them.
func escaped(text string) string {
	if !strings.ContainsFunc(text, unusual) {
		return text // as nearly all are
	}
	return html.EscapeString(strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || ' ' <= r && r < 0xFFFE || r > 0xFFFF:
			return r
		}
		return utf8.RuneError
	}, text))
}

func same(a, b *chart.Color) bool { return a != nil && b != nil && *a == *b }
