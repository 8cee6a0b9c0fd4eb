package draw

import (
	"image"
	"math"
	"slices"
)

// What a raster fills are closed outlines. A stroke along a bow is a ribbon, with discs for round
// ends; one with corners is the sum of the boxes along its lines and of discs at its joints. All
// turn the same way, left about, so that where they overlap nothing cancels.

// jointed are the outlines of a line with corners.
func jointed(line []Point, width float64) [][]Point {
	var outlines [][]Point
	for i, b := range line {
		if i > 0 {
			outlines = append(outlines, ribbon([]Point{line[i-1], b}, width))
		}
		if width > 2 {
			outlines = append(outlines, circle(b, width/2))
		}
	}
	return outlines
}

// ribbon is the outline of a line that turns gently, of two points at least.
func ribbon(line []Point, width float64) []Point {
	last := len(line) - 1
	var there, back []Point
	for i, at := range line {
		n := normal(line[max(0, i-1)], line[min(last, i+1)])
		there = append(there, Point{at.X + n.X*width/2, at.Y + n.Y*width/2})
		back = append(back, Point{at.X - n.X*width/2, at.Y - n.Y*width/2})
	}
	slices.Reverse(back)
	return append(there, back...)
}

// normal is the direction across a line from a to b, one long.
func normal(a, b Point) Point {
	dx, dy := b.X-a.X, b.Y-a.Y
	length := max(math.Hypot(dx, dy), 1e-9)
	return Point{-dy / length, dx / length}
}

// circle is the outline of a disc, with corners near enough not to be seen.
func circle(center Point, radius float64) []Point {
	n := max(8, min(48, int(radius*4)))
	outline := make([]Point, n)
	for i := range outline {
		sin, cos := math.Sincos(-2 * math.Pi * float64(i) / float64(n))
		outline[i] = Point{center.X + radius*cos, center.Y + radius*sin}
	}
	return outline
}

// flattened is a path of bows as straight lines: a bow is a parabola, drawn in steps of about
// two pixels.
func flattened(points []Point) []Point {
	line := points[:1:1]
	for i := 0; i+2 < len(points); i += 2 {
		a, c, b := points[i], points[i+1], points[i+2]
		n := max(4, min(24, int(math.Hypot(b.X-a.X, b.Y-a.Y)/2)))
		for k := 1; k <= n; k++ {
			t := float64(k) / float64(n)
			u := 1 - t
			line = append(line, Point{u*u*a.X + 2*u*t*c.X + t*t*b.X, u*u*a.Y + 2*u*t*c.Y + t*t*b.Y})
		}
	}
	return line
}

// dashed cuts a line into dashes as long as the spaces between them; 0 leaves it whole.
func dashed(line []Point, dash float64) [][]Point {
	if dash <= 0 {
		return [][]Point{line}
	}
	var pieces [][]Point
	left, on := dash, true
	piece := []Point{line[0]}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		for length := math.Hypot(b.X-a.X, b.Y-a.Y); length >= left; length = math.Hypot(b.X-a.X, b.Y-a.Y) {
			a = Point{a.X + (b.X-a.X)*left/length, a.Y + (b.Y-a.Y)*left/length}
			if on {
				pieces = append(pieces, append(piece, a))
			}
			piece, left, on = []Point{a}, dash, !on
		}
		left -= math.Hypot(b.X-a.X, b.Y-a.Y)
		piece = append(piece, b)
	}
	if on {
		pieces = append(pieces, piece)
	}
	return pieces
}

// around is the whole pixels that outlines touch.
func around(outlines [][]Point) image.Rectangle {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, outline := range outlines {
		for _, p := range outline {
			lo, hi = Point{min(lo.X, p.X), min(lo.Y, p.Y)}, Point{max(hi.X, p.X), max(hi.Y, p.Y)}
		}
	}
	return image.Rect(int(math.Floor(lo.X)), int(math.Floor(lo.Y)), int(math.Ceil(hi.X))+1, int(math.Ceil(hi.Y))+1)
}
