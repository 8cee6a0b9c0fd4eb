package pdf

// state is what of the graphics state (8.4) this package sets. An operator is written only
// where it changes something.
type state struct {
	fill, stroke [3]uint8
	width, dash  float64 // mm
	ends         Ends
	corners      Corners
	font         *Font
	size         float64 // mm
}

// initial is what is in force at the beginning of a page (Table 52).
var initial = state{width: 1}

// Ends are the shapes of the ends of lines and dashes (Table 54).
type Ends uint8

// The shapes of ends.
const (
	ButtEnds  Ends = 0
	RoundEnds Ends = 1
)

// Corners are the shapes of corners of lines (Table 55).
type Corners uint8

// The shapes of corners.
const (
	MiterCorners Corners = 0
	RoundCorners Corners = 1
)

// Save keeps what is set, and where the origin is, until Restore (8.4.2).
func (p *Page) Save() {
	p.saved = append(p.saved, p.now)
	p.op("q")
}

// Restore sets everything as it was at the last Save that is not restored yet. There must be
// one.
func (p *Page) Restore() {
	last := len(p.saved) - 1
	p.now, p.saved = p.saved[last], p.saved[:last]
	p.op("Q")
}

// SetFill sets the color, in sRGB, of filled shapes and of text.
func (p *Page) SetFill(r, g, b uint8) {
	if color := [3]uint8{r, g, b}; set(&p.now.fill, color) {
		p.color("rg", color)
	}
}

// SetStroke sets the color, in sRGB, of lines.
func (p *Page) SetStroke(r, g, b uint8) {
	if color := [3]uint8{r, g, b}; set(&p.now.stroke, color) {
		p.color("RG", color)
	}
}

// color sets a color of the space DeviceRGB (8.6.4.3).
func (p *Page) color(operator string, c [3]uint8) {
	p.op(operator, float64(c[0])/255, float64(c[1])/255, float64(c[2])/255)
}

// SetWidth sets the width of lines.
func (p *Page) SetWidth(width float64) {
	if set(&p.now.width, width) {
		p.op("w", width)
	}
}

// SetDash makes lines of dashes of a length, with gaps as long between them (8.4.3.6). 0 makes
// them solid.
func (p *Page) SetDash(length float64) {
	if !set(&p.now.dash, length) {
		return
	}
	p.content = append(p.content, '[')
	if length > 0 {
		p.content = appendNumber(p.content, length)
	}
	p.content = append(p.content, "] 0 d\n"...)
}

// SetEnds sets the shape of the ends of lines.
func (p *Page) SetEnds(e Ends) {
	if set(&p.now.ends, e) {
		p.op("J", float64(e))
	}
}

// SetCorners sets the shape of the corners of lines.
func (p *Page) SetCorners(c Corners) {
	if set(&p.now.corners, c) {
		p.op("j", float64(c))
	}
}

// set sets a value and tells whether that changed it.
func set[T comparable](to *T, value T) bool {
	if *to == value {
		return false
	}
	*to = value
	return true
}
