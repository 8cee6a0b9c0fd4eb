package render

// Paper is a size of paper, upright.
type Paper struct {
	Name          string
	Width, Height float64 // mm
}

// The papers.
var (
	A4     = Paper{"a4", 210, 297}
	Letter = Paper{"letter", 215.9, 279.4}
)

// margin is what stays free at the edges of a page; printers need about as much.
const margin = 12.0

// printable is the room on a page, in mm.
func (p Paper) printable() (width, height float64) {
	return p.Width - 2*margin, p.Height - 2*margin - 6
}
