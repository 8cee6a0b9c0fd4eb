package draw

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// SVG writes a scene as an SVG 1.1 drawing that stands alone, with all facts, the same for the same scene.
func SVG(w io.Writer, s *Scene) error {
	whole := *s
	whole.Compact = false
	return whole.svg(w, `<?xml version="1.0" encoding="UTF-8"?>`+"\n", "p")
}

// SVG writes the element alone, for a page of HTML. Its ids begin with the prefix, for several to stand in one.
func (s *Scene) SVG(w io.Writer, prefix string) error { return s.svg(w, "", prefix) }

func (s *Scene) svg(w io.Writer, head, prefix string) error {
	v := &svgWriter{Scene: s, prefix: prefix, paths: map[string]string{}}
	v.put("%s", head)
	width, height, unit, crisp := number(s.Width), number(s.Height), "mm", ""
	if s.Pixels {
		unit, crisp = "", ` shape-rendering="crispEdges"`
	}
	v.put(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%[1]s%[3]s" height="%[2]s%[3]s"%[4]s`, width, height, unit, crisp)
	v.put(` role="img" aria-labelledby="%s-name" aria-describedby="%[1]s-about">`+"\n", prefix)
	v.put("<title id=\"%s-name\">%s</title>\n<desc id=\"%[1]s-about\">%[3]s</desc>\n", prefix, escaped(s.Name), escaped(s.Description))
	if !s.Clear {
		v.put(`<rect width="%s" height="%s" fill="#FFFFFF"/>`+"\n", width, height)
	}
	v.shapes(s.Shapes)
	v.put("</svg>\n")
	_, err := v.WriteTo(w)
	return err
}

// svgWriter puts neighbors of one class and paint in a group; in a compact scene those that need not be told from
// each other are joined in one path.
type svgWriter struct {
	bytes.Buffer
	*Scene
	prefix string
	paths  map[string]string // ids of the joined paths, by their outlines
	clips  int
}

func (v *svgWriter) put(format string, args ...any) { fmt.Fprintf(v, format, args...) }

func (v *svgWriter) shapes(shapes []Shape) {
	for len(shapes) > 0 {
		s, n := &shapes[0], 1
		if s.Kind == Clip {
			v.clips++
			v.put(`<clipPath id="%s-clip%d"><rect%s/></clipPath>`+"\n", v.prefix, v.clips, corners(s.Points))
			v.put(`<g clip-path="url(#%s-clip%d)">`+"\n", v.prefix, v.clips)
			v.shapes(s.Inside)
		} else {
			tag := v.groupTag(s)
			for n < len(shapes) && shapes[n].Kind != Clip && v.groupTag(&shapes[n]) == tag {
				n++
			}
			v.put("%s\n", tag)
			v.group(shapes[:n])
		}
		v.put("</g>\n")
		shapes = shapes[n:]
	}
}

func (v *svgWriter) group(shapes []Shape) {
	joined := ""
	for i := range shapes {
		switch s := &shapes[i]; {
		case v.tells(s) || s.Kind == Disc || s.Kind == Label:
			v.join(joined)
			v.element(s)
			joined = ""
		default:
			joined += v.path(s)
		}
	}
	v.join(joined)
}

// tells reports whether a shape keeps its facts: of many only what is to mend, and what a page leads to.
func (v *svgWriter) tells(s *Shape) bool { return !v.Compact || s.ID != "" || s.Class == "warning" }

// join writes a joined path; one that was written before is used again, in the paint of the group.
func (v *svgWriter) join(path string) {
	if id, drawn := v.paths[path]; drawn {
		v.put(`<use href="#%s"/>`+"\n", id)
	} else if path != "" {
		v.paths[path] = fmt.Sprint(v.prefix, "-path", len(v.paths)+1)
		v.put(`<path id="%s" d="%s"/>`+"\n", v.paths[path], path)
	}
}

func (v *svgWriter) element(s *Shape) {
	name, place, end := "path", "", "/>"
	switch p := v.rounded(s.Points); s.Kind {
	case Box:
		name, place = "rect", corners(p)
	case Disc:
		name, place = "circle", lengths("cx cy r", p[0].X, p[0].Y, s.Radius)
	case Label:
		name, place, end = "text", lengths("x y", p[0].X, p[0].Y), ">"+escaped(s.Text)+"</text>"
	default:
		place = ` d="` + v.path(s) + `"`
	}
	v.put("<%s", name)
	if s.ID != "" {
		v.put(` id="%s"`, s.ID)
	}
	v.put("%s", place)
	for _, d := range s.Data {
		if v.tells(s) {
			v.put(` data-%s="%s"`, d.Name, escaped(d.Value))
		}
	}
	v.put("%s\n", end)
}

// rounded are points in tenths of a millimeter, where the scene is compact.
func (v *svgWriter) rounded(points []Point) []Point {
	points = slices.Clone(points)
	for i, p := range points {
		if v.Compact {
			points[i] = Point{math.Round(p.X*10) / 10, math.Round(p.Y*10) / 10}
		}
	}
	return points
}

// path is the way of a shape of straight lines or bows, in a compact scene each point told from the last on it.
func (v *svgWriter) path(s *Shape) string {
	points, letters, from := v.rounded(s.Points), "LL", Point{}
	if s.Kind == Bow {
		letters = " Q" // by the turn: the end of a bow, or where it would turn
	}
	text := "M" + number(points[0].X) + " " + number(points[0].Y)
	if s.Kind == Box {
		w, h := points[1].X-points[0].X, points[1].Y-points[0].Y
		return text + "h" + number(w) + "v" + number(h) + "h" + number(-w) + "z"
	}
	if v.Compact {
		letters, from = strings.ToLower(letters), points[0]
	}
	for i, p := range points[1:] {
		text += letters[1-i%2:2-i%2] + number(p.X-from.X) + " " + number(p.Y-from.Y)
		if v.Compact && (s.Kind == Line || i%2 == 1) {
			from = p
		}
	}
	return text
}

func (v *svgWriter) groupTag(s *Shape) string {
	fill := "none"
	if s.Fill != nil {
		fill = s.Fill.String()
	}
	tag := `<g class="` + s.Class + `" fill="` + fill + `"`
	if s.Stroke != nil {
		tag += ` stroke="` + s.Stroke.String() + `"` + lengths("stroke-width", s.Width)
		if v.Pixels {
			tag += ` shape-rendering="auto"`
		}
		if s.Dash > 0 {
			tag += lengths("stroke-dasharray", s.Dash)
		} else {
			tag += ` stroke-linecap="round" stroke-linejoin="round"`
		}
	}
	if s.Kind == Label {
		anchor := [...]string{Start: "start", Middle: "middle", End: "end"}[s.Align]
		tag += ` font-family="sans-serif"` + lengths("font-size", s.Size) + ` text-anchor="` + anchor + `"`
		if s.Bold {
			tag += ` font-weight="bold"`
		}
	}
	return tag + ">"
}

func corners(p []Point) string {
	return lengths("x y width height", p[0].X, p[0].Y, p[1].X-p[0].X, p[1].Y-p[0].Y)
}

func lengths(names string, values ...float64) string {
	text := ""
	for i, name := range strings.Fields(names) {
		text += " " + name + `="` + number(values[i]) + `"`
	}
	return text
}

func number(v float64) string {
	text := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// escaped is text for between tags and in attributes; U+FFFD stands for control characters that XML cannot write.
func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a builder takes all
	return b.String()
}
