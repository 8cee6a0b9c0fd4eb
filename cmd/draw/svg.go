package draw

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"strandwise/chart"
)

// SVG writes a scene as an SVG 1.1 drawing that stands alone, with all facts. The same scene gives the same
// bytes.
func SVG(w io.Writer, s *Scene) error {
	if _, err := io.WriteString(w, `<?xml version="1.0" encoding="UTF-8"?>`+"\n"); err != nil {
		return err
	}
	whole := *s
	whole.Compact = false
	return whole.SVG(w, "p")
}

// SVG writes the element of SVG alone, as it stands in a page of HTML. Its ids begin with
// the prefix, so that several drawings can stand in one page.
func (s *Scene) SVG(w io.Writer, prefix string) error {
	v := &svgWriter{prefix: prefix, crisp: s.Pixels, compact: s.Compact, paths: map[string]string{}}
	width, height, unit := number(s.Width), number(s.Height), "mm"
	if s.Pixels {
		unit = ""
	}
	v.put(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 `, width, ` `, height, `" width="`, width, unit, `" height="`, height, unit, `"`)
	if s.Pixels {
		v.put(` shape-rendering="crispEdges"`)
	}
	v.put(` role="img" aria-labelledby="`, prefix, `-name" aria-describedby="`, prefix, `-about">`+"\n")
	v.put(`<title id="`, prefix, `-name">`, escaped(s.Name), "</title>\n")
	v.put(`<desc id="`, prefix, `-about">`, escaped(s.Description), "</desc>\n")
	if !s.Clear {
		v.put("<rect", lengths("width height", s.Width, s.Height), ` fill="#FFFFFF"/>`+"\n")
	}
	v.shapes(s.Shapes)
	v.put("</svg>\n")
	_, err := v.WriteTo(w)
	return err
}

// svgWriter writes shapes. Neighbors of one class and paint share a group.
type svgWriter struct {
	bytes.Buffer
	prefix  string
	crisp   bool              // edges fall on pixels, but those of strokes
	compact bool              // neighbors are joined in one path
	group   string            // opening tag of the group that is open, or ""
	outline []byte            // of the shapes joined since the group began or its last element
	paths   map[string]string // ids of the joined paths, by their outlines
	clips   int
}

func (v *svgWriter) put(parts ...string) {
	for _, text := range parts {
		v.WriteString(text)
	}
}

func (v *svgWriter) shapes(shapes []Shape) {
	for i := range shapes {
		s := &shapes[i]
		switch p := s.Points; {
		case s.Kind == Clip:
			v.clip(s)
		case v.compact && s.ID == "" && (s.Kind == Box || s.Kind == Line || s.Kind == Bow):
			v.join(s)
		case s.Kind == Box:
			v.element("rect", lengths("x y width height", p[0].X, p[0].Y, p[1].X-p[0].X, p[1].Y-p[0].Y), s)
		case s.Kind == Disc:
			v.element("circle", v.lengths("cx cy r", p[0].X, p[0].Y, s.Radius), s)
		case s.Kind == Label:
			v.element("text", v.lengths("x y", p[0].X, p[0].Y), s)
		default:
			v.element("path", ` d="`+path(s)+`"`, s)
		}
	}
	v.regroup("")
}

func (v *svgWriter) element(name, place string, s *Shape) {
	v.regroup(v.groupTag(s))
	v.endPath()
	v.put("<", name)
	if s.ID != "" {
		v.put(` id="`, s.ID, `"`)
	}
	v.put(place)
	for _, d := range s.Data {
		if v.compact && s.ID == "" {
			break
		}
		v.put(" data-", d.Name, `="`, escaped(d.Value), `"`)
	}
	if s.Kind == Label {
		v.put(">", escaped(s.Text), "</", name, ">\n")
	} else {
		v.put("/>\n")
	}
}

// join adds the outline of a shape to the path of those painted alike: in tenths of a millimeter, told
// from where it begins.
func (v *svgWriter) join(s *Shape) {
	v.regroup(v.groupTag(s))
	tenths := func(p Point) Point { return Point{tenth(p.X), tenth(p.Y)} }
	last := tenths(s.Points[0])
	v.outline = append(v.outline, "M"+number(last.X)+" "+number(last.Y)...)
	if s.Kind == Box {
		size := tenths(s.Points[1])
		w, h := size.X-last.X, size.Y-last.Y
		v.outline = append(v.outline, "h"+number(w)+"v"+number(h)+"h"+number(-w)+"z"...)
		return
	}
	for i, p := range s.Points[1:] {
		p = tenths(p)
		letter := "l"
		if s.Kind == Bow {
			letter = "q "[i%2 : i%2+1] // where the bow would turn, then where it ends
		}
		v.outline = append(v.outline, letter+number(p.X-last.X)+" "+number(p.Y-last.Y)...)
		if s.Kind == Line || i%2 == 1 {
			last = p
		}
	}
}

// lengths are the lengths of a shape, in tenths of a millimeter where it is one of many.
func (v *svgWriter) lengths(names string, values ...float64) string {
	for i := range values {
		if v.compact {
			values[i] = tenth(values[i])
		}
	}
	return lengths(names, values...)
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// endPath writes the joined outline; one that was written before is used again, in the paint of the group.
func (v *svgWriter) endPath() {
	if len(v.outline) == 0 {
		return
	}
	way := string(v.outline)
	if id, drawn := v.paths[way]; drawn {
		v.put(`<use href="#`, id, `"/>`+"\n")
	} else {
		id = fmt.Sprint(v.prefix, "-path", len(v.paths)+1)
		v.paths[way] = id
		v.put(`<path id="`, id, `" d="`, way, `"/>`+"\n")
	}
	v.outline = v.outline[:0]
}

// regroup ends the group that is open and begins another, unless they are alike.
func (v *svgWriter) regroup(tag string) {
	if tag == v.group {
		return
	}
	v.endPath()
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
	v.put(`<clipPath id="`, id, `"><rect`, lengths("x y width height", a.X, a.Y, b.X-a.X, b.Y-a.Y), "/></clipPath>\n")
	v.put(`<g clip-path="url(#`, id, `)">`+"\n")
	v.shapes(s.Inside)
	v.put("</g>\n")
}

// groupTag is the tag that gives a shape its class and paint.
func (v *svgWriter) groupTag(s *Shape) string {
	tag := `<g class="` + s.Class + `" fill="` + colorOr(s.Fill) + `"`
	if s.Stroke != nil {
		tag += ` stroke="` + s.Stroke.String() + `"` + lengths("stroke-width", s.Width)
		if v.crisp {
			tag += ` shape-rendering="auto"`
		}
		if s.Dash > 0 {
			tag += lengths("stroke-dasharray", s.Dash)
		} else {
			tag += ` stroke-linecap="round" stroke-linejoin="round"`
		}
	}
	if s.Kind == Label {
		tag += ` font-family="sans-serif"` + lengths("font-size", s.Size) + ` text-anchor="` + anchors[s.Align] + `"`
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
	letters := "LL"
	if s.Kind == Bow {
		letters = " Q" // by the turn: the end of a bow, or where it would turn
	}
	text := ""
	for i, p := range s.Points {
		letter := letters[i%2 : i%2+1]
		if i == 0 {
			letter = "M"
		}
		text += letter + number(p.X) + " " + number(p.Y)
	}
	return text
}

// lengths are attributes, one for each name.
func lengths(names string, values ...float64) string {
	text := ""
	for i, name := range strings.Fields(names) {
		text += " " + name + `="` + number(values[i]) + `"`
	}
	return text
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
		if r == '\t' || r == '\n' || r == '\r' || ' ' <= r && r < 0xFFFE || r > 0xFFFF {
			return r
		}
		return utf8.RuneError
	}, text))
}
