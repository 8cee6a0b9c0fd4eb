package picture

import (
	"math"
	"slices"
)

// A grid shows in the edges of a picture: nearly all that changes from one pixel column to the next changes at lines
// a fixed pitch apart, though not every line shows. For a pitch, the peaks of the edges are laid on a circle as long
// as the pitch; those of a grid fall together there, and their mean is where the lines are. The share of the edges
// near the lines says how well the pitch does. Every divisor of the right pitch does as well, so the largest pitch
// wins. Pitches are tried in steps by which the last line of the picture moves a quarter of a cell; then pitch and
// place are fitted to the peaks by least squares, so a scaled picture needs nothing of its own. It costs (pixels)^2
// sines at most. The edges count by their squares: a line runs through the whole chart, while the numbers beside it
// are short.
const (
	gridShare  = 0.85 // share of the edges a grid must explain: row numbers beside the chart are forgiven
	leastMarks = 3    // lines of the grid that must show at least
	leastPitch = 2.5  // pixels; smaller cells are found in sharp pictures only, by their divisor
	together   = 0.5  // how near the peaks must lie on the circle for the pitch to be looked at
)

// axis is the grid in one direction; one that was not found has no cells.
type axis struct {
	start float64 // where the first cell begins, in pixels
	pitch float64 // pixels from one cell to the next
	count int     // cells
	line  float64 // pixels on which a line between cells may lie; 0 when they touch
	marks int     // lines of the grid that were seen; 0 when it was given
	drawn bool    // lines are drawn between the cells
}

func (a axis) end() float64 { return a.start + float64(a.count)*a.pitch }

// direction is one direction of a picture under search: the picture itself across, turned down.
type direction struct {
	*pixels
	energy     []int // how much changes across each line between pixels
	rough      bool
	begin, end int // of the chart the other way, as far as its edges tell
}

// find tries every pitch, the largest first. Where few edges show, they may by chance lie near the lines of a pitch
// somewhat larger than the right one; that one, which they lie on, is met a little later.
func (d *direction) find() (found axis) {
	peaks, spread := d.peaks(), math.Inf(1)
	if len(peaks) < leastMarks {
		return axis{}
	}
	for pitch := float64(d.width) / 2; pitch >= max(leastPitch, 0.55*found.pitch); pitch -= pitch * pitch / float64(4*d.width) {
		lines, near := onCircle(peaks, pitch)
		if near < together {
			continue
		}
		lines, _, _ = lines.fitted(peaks, 0.3*pitch) // they may have moved away from those of a pitch not quite right
		lines, _, _ = lines.fitted(peaks, reach(pitch))
		_, share, off := lines.fitted(peaks, reach(lines.pitch))
		if share < gridShare || off > spread/2 {
			continue
		}
		if a := d.accept(lines); a.count > 0 {
			found, spread = a, off
		}
	}
	return found
}

// comb is where lines a pitch apart would be, in pixels.
type comb struct{ start, pitch float64 }

// onCircle is the mean place of the peaks on a circle as long as the pitch, and its length, 1 when all fall together.
func onCircle(peaks []peak, pitch float64) (lines comb, near float64) {
	var x, y, sum float64
	for _, p := range peaks {
		sin, cos := math.Sincos(2 * math.Pi * p.at / pitch)
		x, y, sum = x+p.energy*cos, y+p.energy*sin, sum+p.energy
	}
	return comb{math.Atan2(y, x) / (2 * math.Pi) * pitch, pitch}, math.Hypot(x, y) / sum
}

// reach is how far from a line of the grid its edges may lie, in pixels.
func reach(pitch float64) float64 { return min(max(0.13*pitch, 0.6), 4) }

// fitted is moved to the peaks within reach of a line by least squares. It tells what share of the edges those are, and
// how far they were from the lines.
func (c comb) fitted(peaks []peak, within float64) (to comb, share, spread float64) {
	var all, squares, n, k, kk, x, kx float64
	for _, p := range peaks {
		all += p.energy
		line := math.Round((p.at - c.start) / c.pitch)
		if distance := p.at - c.start - line*c.pitch; math.Abs(distance) <= within {
			w := p.energy
			squares += w * distance * distance
			n, k, kk, x, kx = n+w, k+w*line, kk+w*line*line, x+w*p.at, kx+w*line*p.at
		}
	}
	to = c
	if dispersion := n*kk - k*k; dispersion > 1e-9*n*n {
		to.pitch = (n*kx - k*x) / dispersion
		to.start = (x - to.pitch*k) / n
	}
	return to, n / all, math.Sqrt(squares / max(n, 1))
}

// accept turns a pitch and its place into a grid when the picture bears it out.
func (d *direction) accept(lines comb) axis {
	pitch := lines.pitch
	start := lines.start - math.Floor((lines.start+reach(pitch))/pitch)*pitch // the first line in the picture
	wide := lineWidth(pitch)
	var places []float64
	var marks []int
	for at := start; at <= float64(d.width)+reach(pitch); at += pitch {
		places = append(places, at)
		marks = append(marks, d.mark(at, wide))
	}
	sorted := slices.Sorted(slices.Values(marks))
	noise := max(1, sorted[len(sorted)-1]/20)
	unseen, _ := slices.BinarySearch(sorted, noise)
	found := axis{pitch: pitch, line: float64(wide - 1), marks: len(marks) - unseen}
	first, last := marked(marks, max(1, sorted[len(marks)*3/4]*2/3))
	switch {
	case found.marks < leastMarks:
		return axis{}
	case wide > 1 && d.drawnLines(places[first:last+1], wide):
		found.drawn = true
	default:
		first, last = marked(marks, noise)
	}
	found.start, found.count = places[first], last-first
	return found
}

// lineWidth is how many lines between pixels the edges at one line of the grid may take up.
func lineWidth(pitch float64) int {
	if pitch < 4 {
		return 1
	}
	return 1 + int(min(pitch/4, 2+pitch/12, 8))
}

// mark is the most that changes on one line between pixels in the window.
func (d *direction) mark(at float64, wide int) int {
	most := 0
	from := int(math.Ceil(at - float64(wide)/2))
	for i := max(from, 0); i <= min(int(math.Floor(at+float64(wide)/2)), d.width-1); i++ {
		most = max(most, d.energy[i])
	}
	return most
}
