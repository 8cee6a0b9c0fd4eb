package draw

import (
	"bufio"
	"fmt"
	"html"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"strandwise/chart"
)

// SVG writes a scene as an SVG 1.1 drawing that stands alone. The same scene gives the same
// bytes.
func SVG(w io.Writer, s *Scene) error {
	if _, err := io.WriteString(w, `<?xml version="1.0" encoding="UTF-8"?>`+"\n"); err != nil {
		return err
	}
	return s.SVG(w, "p")
}

// SVG writes the element of SVG alone, as it stands in a page of HTML. Its ids begin with
// the prefix, so that several drawings can stand in one page.
func (s *Scene) SVG(w io.Writer, prefix string) error {
	v := &svgWriter{w: bufio.NewWriter(w), prefix: prefix, crisp: s.Pixels}
	unit, crisp := "mm", ""
	if s.Pixels {
		unit, crisp = "", ` shape-rendering="crispEdges"`
	}
	width, height := number(s.Width), number(s.Height)
	v.writef(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%s%s" height="%s%s"%s role="img" aria-labelledby="%s-name" aria-describedby="%s-about">`+"\n",
		width, height, width, unit, height, unit, crisp, prefix, prefix)
	v.writef("<title id=\"%s-name\">%s</title>\n", prefix, escaped(s.Name))
	v.writef("<desc id=\"%s-about\">%s</desc>\n", prefix, escaped(s.Description))
	if !s.Clear {
		v.writef("<rect width=\"%s\" height=\"%s\" fill=\"#FFFFFF\"/>\n", width, height)
	}
	v.shapes(s.Shapes)
	v.writef("</svg>\n")
	return v.w.Flush()
}

// svgWriter writes shapes. Neighbors of one class and paint share a group.
type svgWriter struct {
	w      *bufio.Writer
	prefix string
	crisp  bool   // edges fall on pixels, but those of strokes
	group  string // opening tag of the group that is open, or ""
	clips  int
}

func (v *svgWriter) put(parts ...string) {
	for _, text := range parts {
		_, _ = v.w.WriteString(text) // Flush tells
	}
}

func (v *svgWriter) writef(format string, args ...any) { fmt.Fprintf(v.w, format, args...) }

func (v *svgWriter) shapes(shapes []Shape) {
	for i := range shapes {
		if s := &shapes[i]; s.Kind == Clip {
			v.clip(s)
		} else {
			v.shape(s)
		}
	}
	v.regroup("")
}

func (v *svgWriter) shape(s *Shape) {
	v.regroup(v.groupTag(s))
	switch p := s.Points; s.Kind {
	case Box:
		v.element("rect", s, "x", number(p[0].X), "y", number(p[0].Y), "width", number(p[1].X-p[0].X), "height", number(p[1].Y-p[0].Y))
	case Disc:
		v.element("circle", s, "cx", number(p[0].X), "cy", number(p[0].Y), "r", number(s.Radius))
	case Label:
		v.element("text", s, "x", number(p[0].X), "y", number(p[0].Y))
	default:
		v.element("path", s, "d", path(s))
	}
}

// element writes an element with attributes, each a name and what it is. There may be a hundred
// thousand of them, so nothing is formatted.
func (v *svgWriter) element(name string, s *Shape, attributes ...string) {
	v.put("<", name)
	if s.ID != "" {
		v.put(` id="`, s.ID, `"`)
	}
	for i := 0; i < len(attributes); i += 2 {
		v.put(" ", attributes[i], `="`, attributes[i+1], `"`)
	}
	for _, d := range s.Data {
		v.put(" data-", d.Name, `="`, escaped(d.Value), `"`)
	}
	if s.Kind == Label {
		v.put(">", escaped(s.Text), "</", name, ">\n")
	} else {
		v.put("/>\n")
	}
}

// regroup ends the group that is open and begins another, unless they are alike.
func (v *svgWriter) regroup(tag string) {
	if tag == v.group {
		return
	}
	if v.group != "" {
		v.put("</g>\n")
	}
	if v.group = tag; tag != "" {
		v.put(tag, "\n")
	}
}

func (v *svgWriter) clip(s *Shape) {
	v.regroup("")
	v.clips++
	id, a, b := fmt.Sprintf("%s-clip%d", v.prefix, v.clips), s.Points[0], s.Points[1]
	v.writef("<clipPath id=\"%s\"><rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/></clipPath>\n<g clip-path=\"url(#%s)\">\n",
		id, number(a.X), number(a.Y), number(b.X-a.X), number(b.Y-a.Y), id)
	v.shapes(s.Inside)
	v.writef("</g>\n")
}

// groupTag is the tag that gives a shape its class and paint.
func (v *svgWriter) groupTag(s *Shape) string {
	tag := `<g class="` + s.Class + `" fill="` + colorOr(s.Fill) + `"`
	if s.Stroke != nil {
		tag += ` stroke="` + s.Stroke.String() + `" stroke-width="` + number(s.Width) + `"`
		if v.crisp {
			tag += ` shape-rendering="auto"`
		}
		if s.Dash > 0 {
			tag += ` stroke-dasharray="` + number(s.Dash) + `"`
		} else {
			tag += ` stroke-linecap="round" stroke-linejoin="round"`
		}
	}
	if s.Kind == Label {
		tag += ` font-family="sans-serif" font-size="` + number(s.Size) + `" text-anchor="` + anchors[s.Align] + `"`
		if s.Bold {
			tag += ` font-weight="bold"`
		}
	}
	return tag + ">"
}

// anchors are the words for alignments.
var anchors = [...]string{Start: "start", Middle: "middle", End: "end"}

func colorOr(c *chart.Color) string {
	if c == nil {
		return "none"
	}
	return c.String()
}

// path is the way of a line or of bows.
func path(s *Shape) string {
	var b strings.Builder
	for i, p := range s.Points {
		letter := " " // the second point of a bow
		switch {
		case i == 0:
			letter = "M"
		case s.Kind == Line:
			letter = "L"
		case i%2 == 1:
			letter = "Q"
		}
		b.WriteString(letter + number(p.X) + " " + number(p.Y))
	}
	return b.String()
}

// number is a length with at most two decimals.
func number(v float64) string {
	text := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// escaped is text as it may stand between tags and in attributes. XML has no way to write
// some control characters (Extensible Markup Language 1.0, 2.2); a sign that something is
// missing stands for them.
func escaped(text string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || ' ' <= r && r < 0xFFFE || r > 0xFFFF:
			return r
		}
		return utf8.RuneError
	}, text))
}
