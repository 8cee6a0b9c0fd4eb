package draw

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

// Margin is what stays free at the edges of a page in mm; printers need about as much.
const Margin = 12.0

// printable is the room on a page, in mm.
func (p Paper) printable() (width, height float64) {
	return p.Width - 2*Margin, p.Height - 2*Margin - 6
}
