package pdf

import (
	"math"
	"strconv"
)

// Page is a page's content under way (7.8.2): operators, each after its operands.
type Page struct {
	content []byte
	now     state
	saved   []state
	x, y    float64 // where the line under way ends
}

// newPage turns user space from points upwards into mm downwards (8.3.4), so that numbers
// stand in the content as callers give them.
func newPage(height float64) *Page {
	p := &Page{now: initial}
	p.content = append(p.content, "2.83464567 0 0 -2.83464567 0 "...) // 72/25.4
	p.content = appendNumber(p.content, height*pointsPerMm)
	p.content = append(p.content, " cm\n"...)
	return p
}

// op writes an operator after its numbers.
func (p *Page) op(operator string, numbers ...float64) {
	for _, v := range numbers {
		p.content = append(appendNumber(p.content, v), ' ')
	}
	p.content = append(append(p.content, operator...), '\n')
}

// Translate moves the origin of what is drawn from here on to a place (8.3.3).
func (p *Page) Translate(x, y float64) { p.op("cm", 1, 0, 0, 1, x, y) }

// Scale makes what is drawn from here on larger by a factor, seen from the origin. The factor
// is kept to seven digits.
func (p *Page) Scale(factor float64) {
	s := strconv.FormatFloat(factor, 'f', 7, 64)
	p.content = append(p.content, s+" 0 0 "+s+" 0 0 cm\n"...)
}

// MoveTo begins a line at a place (8.5.2).
func (p *Page) MoveTo(x, y float64) {
	p.op("m", x, y)
	p.x, p.y = x, y
}

// LineTo goes on straight.
func (p *Page) LineTo(x, y float64) {
	p.op("l", x, y)
	p.x, p.y = x, y
}

// QuadTo goes on in a curve of second degree with one control point. The format knows those of
// third degree only; the same curve has its control points two thirds of the way from the ends
// to the one (raising the degree of a Bézier curve).
func (p *Page) QuadTo(cx, cy, x, y float64) {
	p.op("c", p.x+(cx-p.x)*2/3, p.y+(cy-p.y)*2/3, x+(cx-x)*2/3, y+(cy-y)*2/3, x, y)
	p.x, p.y = x, y
}

// Rectangle adds a rectangle by its upper left corner and its size.
func (p *Page) Rectangle(x, y, width, height float64) { p.op("re", x, y, width, height) }

// bulge is how far from its ends along the tangents the control points of a quarter of the
// unit circle lie. The curve's middle is then on the circle, and nowhere is the curve further
// off than 3 in 10000 of the radius.
const bulge = 4 * (math.Sqrt2 - 1) / 3

// Circle adds a circle in four curves.
func (p *Page) Circle(x, y, radius float64) {
	r, b := radius, radius*bulge
	p.op("m", x+r, y)
	p.op("c", x+r, y+b, x+b, y+r, x, y+r)
	p.op("c", x-b, y+r, x-r, y+b, x-r, y)
	p.op("c", x-r, y-b, x-b, y-r, x, y-r)
	p.op("c", x+b, y-r, x+r, y-b, x+r, y)
	p.op("h")
}

// Paint fills what was added since the last Paint or Clip, by the nonzero winding rule
// (8.5.3.3.2), strokes it, does both, filling first, or neither.
func (p *Page) Paint(fill, stroke bool) {
	switch {
	case fill && stroke:
		p.op("B")
	case fill:
		p.op("f")
	case stroke:
		p.op("S")
	default:
		p.op("n")
	}
}

// Clip keeps what is drawn until the next Restore within what was added since the last Paint
// or Clip (8.5.4).
func (p *Page) Clip() { p.op("W n") }

// Text writes a line of text from a place of its baseline on (9.4). Size is that of the em.
// Its letters are turned over, for they stand upwards while y goes downwards.
func (p *Page) Text(font *Font, size, x, y float64, s string) {
	if s == "" {
		return
	}
	p.content = append(p.content, "BT "...)
	if p.now.font != font || p.now.size != size {
		p.now.font, p.now.size = font, size
		p.content = append(append(p.content, '/'), font.name+" "...)
		p.content = append(appendNumber(p.content, size), " Tf "...)
	}
	p.content = append(p.content, "1 0 0 -1 "...)
	p.content = append(appendNumber(p.content, x), ' ')
	p.content = append(appendNumber(p.content, y), " Tm "...)
	p.content = append(appendLiteral(p.content, font.encode(s)), " Tj ET\n"...)
}
