package chart

import (
	"math"
	"slices"
)

// A grid shows in the edges of a picture: nearly all that changes from one pixel
// column to the next changes at lines a fixed pitch apart. For a pitch the edges
// are folded, so that lines a pitch apart fall together, and the narrowest window
// that holds nearly all of them is the place of the grid within the pitch: one
// pixel wide where cells touch, a little more where lines are drawn between them.
// Every divisor of the right pitch does as well, so the largest pitch wins that
// does. Where no whole pitch does, the picture may have been scaled: then the
// pitches that divide its size into whole cells are tried.
const (
	cleanShare = 0.98 // share of the edges a grid without lines must explain
	lossyShare = 0.90 // the same in a lossy picture
	lineShare  = 0.85 // with lines: row numbers beside the chart are forgiven
	leastMarks = 3    // lines of the grid that must show at least
	leastScale = 6    // smallest pitch, in pixels, looked for in a scaled picture
)

// axis is the grid in one direction.
type axis struct {
	start float64 // where the first cell begins, in pixels
	pitch float64 // pixels from one cell to the next
	count int     // cells
	line  float64 // pixels on which a line between cells may lie; 0 when they touch
	marks int     // lines of the grid that were seen; 0 when it was given
}

// direction is one direction of a picture under search.
type direction struct {
	edges
	size  int // pixels
	lossy bool
	drawn func(places []float64, wide int) bool // whether lines are drawn between the cells
	plain func(from, to int) bool               // whether pixels from..to-1 are one color
}

// find returns the grid in this direction; ok is false when there is none to see.
// Lines are looked for first, among the squares of the edges: a line runs through
// the whole chart, while the row numbers and letters beside it are short.
func (d *direction) find() (found axis, drawn, ok bool) {
	if d.total() == 0 {
		return axis{}, false, false
	}
	squares := make([]int, d.size)
	for i, n := range d.energy {
		squares[i] = n * n
	}
	if found, drawn, ok := d.search(squares, lossyShare); ok && drawn {
		return found, true, true
	}
	if found, drawn, ok := d.search(d.energy, lineShare); ok {
		return found, drawn, true
	}
	return d.scaled()
}

// search tries every whole pitch, the largest first. Only a grid with lines may
// leave more edges unexplained than clean allows.
func (d *direction) search(energy []int, least float64) (found axis, drawn, ok bool) {
	for pitch := d.size / 2; pitch >= 2; pitch-- {
		at, wide, share := window(energy, pitch)
		if share < least {
			continue
		}
		if found, drawn, ok := d.accept(pitch, at, wide, share); ok {
			return found, drawn, true
		}
	}
	return axis{}, false, false
}

// window folds the edges and returns where in the pitch the narrowest window with
// nearly all of them begins, how wide it is, and its share.
func window(energy []int, pitch int) (at, wide int, share float64) {
	folded, total := make([]int, pitch), 0
	for i, n := range energy {
		folded[i%pitch] += n
		total += n
	}
	widest := 1
	if pitch >= 4 {
		widest = 1 + min(pitch/4, 2+pitch/12, 8)
	}
	for wide = 1; ; wide++ {
		best := 0
		at, best = heaviest(folded, wide)
		share = float64(best) / float64(total)
		if share >= cleanShare || wide == widest {
			return at, wide, share
		}
	}
}

// clean is the share of the edges that a grid without lines must explain.
func (d *direction) clean() float64 {
	if d.lossy {
		return lossyShare
	}
	return cleanShare
}

// heaviest finds the window of a ring with the largest sum; of several the first.
func heaviest(ring []int, wide int) (at, best int) {
	sum := 0
	for i := range wide {
		sum += ring[i%len(ring)]
	}
	best = sum
	for i := 1; i < len(ring); i++ {
		sum += ring[(i+wide-1)%len(ring)] - ring[i-1]
		if sum > best {
			at, best = i, sum
		}
	}
	return at, best
}

// accept turns a pitch and a window into a grid when the picture bears it out.
func (d *direction) accept(pitch, at, wide int, share float64) (found axis, drawn, ok bool) {
	if at+wide > pitch {
		at -= pitch // the window reaches round to the line at the picture's edge
	}
	var places []float64 // middle of each window
	var marks []int      // how many pixels change in it
	for from := at; from <= d.size; from += pitch {
		places = append(places, float64(from)+float64(wide-1)/2)
		marks = append(marks, d.mark(from, wide))
	}
	first, last, seen := strongMarks(marks)
	if seen < leastMarks {
		return axis{}, false, false
	}
	line := float64(wide - 1)
	if wide > 1 && d.drawn(places[first:last+1], wide) {
		return d.framed(places[first], places[last], float64(pitch), line, last-first), true, true
	}
	count := int(math.Round(float64(d.size) / float64(pitch)))
	off := math.Abs(places[0])
	off = min(off, math.Abs(off-float64(pitch)))
	if share < d.clean() || off > line/2+0.01 || apartInts(count*pitch, d.size) > wide-1 {
		return axis{}, false, false
	}
	return axis{0, float64(d.size) / float64(count), count, line, seen}, false, true
}

func apartInts(a, b int) int { return max(a-b, b-a) }

// mark is the largest number of changed pixels on one line of the window.
func (d *direction) mark(from, wide int) int {
	most := 0
	for i := max(from, 0); i < min(from+wide, d.size); i++ {
		most = max(most, d.count[i])
	}
	return most
}

// strongMarks finds the first and last mark at least two thirds of a middling
// one of the stronger half, and how many marks there are at all.
func strongMarks(marks []int) (first, last, seen int) {
	sorted := slices.Sorted(slices.Values(marks))
	strong := max(1, sorted[len(sorted)*3/4]*2/3)
	first, last = -1, -1
	for i, mark := range marks {
		if mark > 0 {
			seen++
		}
		if mark >= strong {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	return first, last, seen
}

// framed is the grid between the first and the last line that is drawn. Where a
// cell's width is left beside it that is not plain, the chart has no frame on
// that side and one cell more.
func (d *direction) framed(first, last, pitch, line float64, count int) axis {
	near := max(1.5, 0.15*pitch) + line
	if math.Abs(first-pitch) <= near && !d.plain(0, int(first-line)) {
		first -= pitch
		count++
	}
	if math.Abs(float64(d.size)-last-pitch) <= near && !d.plain(int(last+line)+1, d.size) {
		count++
	}
	return axis{first, pitch, count, line, count}
}

// scaled looks for a pitch that is no whole number and divides the picture evenly.
func (d *direction) scaled() (found axis, drawn, ok bool) {
	for count := leastMarks + 1; count <= d.size/leastScale; count++ {
		pitch := float64(d.size) / float64(count)
		near := 0
		marks := make([]int, count+1)
		for i, n := range d.energy {
			k := math.Round((float64(i) - 0.5) / pitch)
			if math.Abs(float64(i)-k*pitch) <= 1.5 {
				near += n
				marks[int(k)] = max(marks[int(k)], d.count[i])
			}
		}
		if _, _, seen := strongMarks(marks); seen >= leastMarks && float64(near) >= d.clean()*float64(d.total()) {
			return axis{0, pitch, count, 2, seen}, false, true
		}
	}
	return axis{}, false, false
}
