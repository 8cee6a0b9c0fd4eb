// Package draw makes pictures: of charts, of both sides of a knitted piece, of the rows to come.
//
// In comes a chart, a piece with what was made of it (Knitted), or the sheet of a row; each is drawn once as a
// Scene, a list of shapes with places and paints. Out go bytes: the writers SVG, PNG and PDF know shapes and nothing
// of knitting. Every picture of stitches begins with the layers of a grid: stitches, lines, signs; a piece has its
// catches on them, or its strands. TextChart and FabricText write the same for a terminal, which has nothing finer
// than a character. Nothing here opens a file or decides about the knitting.
package draw

import (
	"fmt"
	"maps"
	"slices"

	"strandwise/chart"
)

// Scene is a picture in mm or pixels, x to the right and y down from the upper left. It is made once; SVG, PNG and
// PDF draw the same shapes in the same order, later ones over earlier ones.
type Scene struct {
	Width, Height     float64
	Name, Description string // what it is called and what it shows, for those who do not see it
	Shapes            []Shape
	Pixels            bool // measured in pixels, not in mm; boxes lie on whole ones
	Clear             bool // nothing lies behind the shapes; else white
	Compact           bool // of many in a page: its SVG joins neighbors that are painted alike, and leaves out their facts
}

// Shape is one thing drawn.
type Shape struct {
	Kind   ShapeKind
	Class  string // what it stands for; neighbors of one class and paint form a group
	Points []Point
	Radius float64 // of a disc
	Ink
	Text   string
	Size   float64 // height of the letters' em
	Align  Align
	Bold   bool
	Inside []Shape // of a clip
	Data   []Datum // facts about what is drawn, for programs that read it back
	ID     string  // by which a page leads to it; none twice in a page
}

// ShapeKind is how the points of a shape are meant.
type ShapeKind uint8

// The kinds of shape.
const (
	Box   ShapeKind = iota // two opposite corners
	Line                   // joined by straight lines
	Bow                    // joined by bows: every second point is where the bow would turn, not on it
	Disc                   // one point, its center
	Label                  // one point, on the base line of a text
	Clip                   // two opposite corners: the shapes inside show only within
)

// Ink is how a shape is painted; nil leaves it out.
type Ink struct {
	Fill, Stroke *chart.Color
	Width        float64 // of the stroke
	Dash         float64 // length of dashes and of the spaces between them; 0 is an unbroken stroke
}

// Align says which part of a text its point is, in halves of its length from its beginning.
type Align uint8

// The alignments.
const (
	Start Align = iota
	Middle
	End
)

// Point is a place in a scene.
type Point struct{ X, Y float64 }

func (p Point) plus(x, y float64) Point { return Point{p.X + x, p.Y + y} }

func toward(a, b Point, share float64) Point {
	return Point{a.X + (b.X-a.X)*share, a.Y + (b.Y-a.Y)*share}
}

// placed are points told from a place, in widths and heights of a size.
func placed(points []Point, at, size Point) []Point {
	all := make([]Point, len(points))
	for i, p := range points {
		all[i] = at.plus(p.X*size.X, p.Y*size.Y)
	}
	return all
}

// Datum is a named fact.
type Datum struct {
	Name  string // in lower case, without data- in front
	Value string
}

func (s *Scene) add(shape Shape) *Shape {
	s.Shapes = append(s.Shapes, shape)
	return &s.Shapes[len(s.Shapes)-1]
}

func (s *Scene) box(class string, at Point, w, h float64, ink Ink, data ...Datum) {
	s.add(Shape{Kind: Box, Class: class, Points: []Point{at, at.plus(w, h)}, Ink: ink, Data: data})
}

func (s *Scene) line(class string, ink Ink, points []Point, data ...Datum) {
	s.add(Shape{Kind: Line, Class: class, Points: points, Ink: ink, Data: data})
}

func (s *Scene) curve(class string, ink Ink, points []Point, data ...Datum) {
	s.add(Shape{Kind: Bow, Class: class, Points: points, Ink: ink, Data: data})
}

func (s *Scene) edged(class string, edge, ink Ink, points []Point, data ...Datum) {
	s.curve(class+"-edge", edge, points)
	s.curve(class, ink, points, data...)
}

func (s *Scene) disc(class string, center Point, radius float64, ink Ink, data ...Datum) {
	s.add(Shape{Kind: Disc, Class: class, Points: []Point{center}, Radius: radius, Ink: ink, Data: data})
}

// label writes a text in black, text in any color; the point is on its base line.
func (s *Scene) label(class string, at Point, size float64, align Align, text string) *Shape {
	return s.text(class, at, size, align, text, &black)
}

func (s *Scene) text(class string, at Point, size float64, align Align, text string, ink *chart.Color) *Shape {
	return s.add(Shape{Kind: Label, Class: class, Points: []Point{at}, Size: size, Align: align, Text: text, Ink: Ink{Fill: ink}})
}

func (s *Scene) clipped(at Point, w, h float64, draw func()) {
	outside := s.Shapes
	s.Shapes = nil
	draw()
	s.Shapes = append(outside, Shape{Kind: Clip, Points: []Point{at, at.plus(w, h)}, Inside: s.Shapes})
}

// layered puts what is drawn meanwhile in the order of its classes, the lowest first, and of its paints, since
// shapes of one class do not overlap: they form few groups.
func (s *Scene) layered(draw func(), classes ...string) {
	from, groups := len(s.Shapes), map[string][]Shape{}
	draw()
	for _, shape := range s.Shapes[from:] {
		layer := slices.Index(classes, shape.Class)
		key := fmt.Sprintf("%02d", layer) + fmt.Sprint(shape.Fill, shape.Stroke, shape.Width, shape.Size, shape.Align, shape.Bold)
		groups[key] = append(groups[key], shape)
	}
	s.Shapes = s.Shapes[:from]
	for _, key := range slices.Sorted(maps.Keys(groups)) {
		s.Shapes = append(s.Shapes, groups[key]...)
	}
}

func (s *Scene) change(by Point, scale float64) {
	s.Width, s.Height = s.Width*scale, s.Height*scale
	change(s.Shapes, by, scale)
}

func change(shapes []Shape, by Point, scale float64) {
	for i := range shapes {
		s := &shapes[i]
		s.Points = placed(s.Points, by, Point{scale, scale}) // others may share them
		s.Width, s.Radius, s.Size = s.Width*scale, s.Radius*scale, s.Size*scale
		change(s.Inside, by, scale)
	}
}

// Stack draws scenes below each other, each below its name.
func Stack(name string, scenes []*Scene) *Scene {
	const title, gap = 4.0, 6.0
	all := &Scene{Name: name}
	for _, s := range scenes {
		all.label("title", Point{0, all.Height + title}, title, Start, s.Name).Bold = true
		s.change(Point{0, all.Height + 1.6*title}, 1)
		all.Shapes = append(all.Shapes, s.Shapes...)
		all.Description += s.Name + ": " + s.Description + " "
		all.Width, all.Height = max(all.Width, s.Width), all.Height+1.6*title+s.Height+gap
	}
	return all
}

// The colors of all that is not yarn. The warning is told by its dashes and its number as well.
var (
	black      = chart.Color{R: 0x1A, G: 0x1A, B: 0x1A}
	gray       = chart.Color{R: 0x70, G: 0x70, B: 0x70}
	pale       = chart.Color{R: 0xC8, G: 0xC8, B: 0xC8}
	white      = chart.Color{R: 0xFF, G: 0xFF, B: 0xFF}
	fullBlack  = chart.Color{} // as small letters need
	warningRed = chart.Color{R: 0xC0, G: 0x00, B: 0x30}
)

// against is full black or white, whichever contrasts more with a color, black when level: one of them contrasts at
// least 4.5 with any (W3C WCAG 2.2).
func against(c chart.Color) *chart.Color {
	return new(c.Ink())
}

// mixed is a color between two; share is how much of it is the second, 0 to 1.
func mixed(a, b chart.Color, share float64) chart.Color {
	mix := func(a, b uint8) uint8 { return uint8(float64(a)*(1-share) + float64(b)*share + 0.5) }
	return chart.Color{R: mix(a.R, b.R), G: mix(a.G, b.G), B: mix(a.B, b.B)}
}
