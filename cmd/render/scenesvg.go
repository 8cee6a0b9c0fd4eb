package render

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"strandwise/chart"
)

// SceneSVG writes a scene as an SVG 1.1 drawing that stands alone. The same scene gives
// the same bytes.
func SceneSVG(w io.Writer, s *Scene) error {
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	return svg(w, s, "p", fmt.Sprintf(` width="%smm" height="%smm"`, number(s.Width), number(s.Height)))
}

// svg writes the element alone. Its ids begin with the prefix, so that several drawings
// can stand in one page; size is further attributes.
func svg(w io.Writer, s *Scene, prefix, size string) error {
	v := &svgWriter{w: bufio.NewWriter(w), prefix: prefix}
	v.writef(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s"%s role="img" aria-labelledby="%s-name" aria-describedby="%s-about">`+"\n",
		number(s.Width), number(s.Height), size, prefix, prefix)
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
	clips    int
	clipping bool
}

func (v *svgWriter) writef(format string, args ...any) { fmt.Fprintf(v.w, format, args...) }

func (v *svgWriter) shape(s *Shape) {
	if s.Kind == Clip {
		v.clip(s)
		return
	}
	if tag := groupTag(s); tag != v.group {
		v.endGroup()
		v.writef("%s\n", tag)
		v.group = tag
	}
	switch s.Kind {
	case Box:
		a, b := s.Points[0], s.Points[1]
		v.writef(`<rect x="%s" y="%s" width="%s" height="%s"`, number(a.X), number(a.Y), number(b.X-a.X), number(b.Y-a.Y))
	case Disc:
		v.writef(`<circle cx="%s" cy="%s" r="%s"`, number(s.Points[0].X), number(s.Points[0].Y), number(s.Radius))
	case Label:
		v.writef(`<text x="%s" y="%s"`, number(s.Points[0].X), number(s.Points[0].Y))
		v.data(s)
		v.writef(">%s</text>\n", escaped(s.Text))
		return
	default:
		v.writef(`<path d="%s"`, pathData(s))
	}
	v.data(s)
	v.writef("/>\n")
}

func (v *svgWriter) data(s *Shape) {
	for _, d := range s.Data {
		v.writef(` data-%s="%s"`, d.Name, escaped(d.Value))
	}
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

func pathData(s *Shape) string {
	b := make([]byte, 0, 12*len(s.Points))
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
	return string(b)
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

func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a strings.Builder never fails
	return b.String()
}
