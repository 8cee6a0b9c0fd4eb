package draw

import (
	"image"
	"math"

	"golang.org/x/image/vector"

	"strandwise/chart"
)

// What a raster fills are closed outlines. A stroke is the sum of the boxes along its lines and of
// discs at its corners. All turn the same way, left about, so that where they overlap nothing
// cancels.

// stroked are the outlines of a line, round at its corners and, unless it is a dash, at its ends.
func stroked(line []Point, width float64, dash bool) [][]Point {
	var outlines [][]Point
	for i, b := range line {
		if i > 0 {
			outlines = append(outlines, bar(line[i-1], b, width))
		}
		if end := i == 0 || i == len(line)-1; width > 2 && !(end && dash) {
			outlines = append(outlines, circle(b, width/2))
		}
	}
	return outlines
}

// bar is the outline of a straight line from a to b.
func bar(a, b Point, width float64) []Point {
	n := (width / 2) / max(distance(a, b), 1e-9)
	x, y := (a.Y-b.Y)*n, (b.X-a.X)*n
	return []Point{{a.X + x, a.Y + y}, {b.X + x, b.Y + y}, {b.X - x, b.Y - y}, {a.X - x, a.Y - y}}
}

// circle is the outline of a disc, with corners near enough not to be seen.
func circle(center Point, radius float64) []Point {
	outline := make([]Point, max(8, min(48, int(radius*4))))
	for i := range outline {
		sin, cos := math.Sincos(-2 * math.Pi * float64(i) / float64(len(outline)))
		outline[i] = Point{center.X + radius*cos, center.Y + radius*sin}
	}
	return outline
}

// flattened is a path of bows as straight lines: a bow is a parabola, drawn in steps of about
// four pixels.
func flattened(points []Point) []Point {
	line := points[:1:1]
	for i := 0; i+2 < len(points); i += 2 {
		a, c, b := points[i], points[i+1], points[i+2]
		n := max(4, min(16, int(distance(a, b)/4)))
		for k := 1; k <= n; k++ {
			t := float64(k) / float64(n)
			line = append(line, toward(toward(a, c, t), toward(c, b, t), t))
		}
	}
	return line
}

// dashed cuts a line into dashes as long as the spaces between them; 0 leaves it whole.
func dashed(line []Point, dash float64) [][]Point {
	if dash <= 0 {
		return [][]Point{line}
	}
	dashes, left, on := [][]Point{{line[0]}}, dash, true
	for i, b := range line[1:] {
		a, length := line[i], distance(line[i], b)
		for length >= left {
			a = toward(a, b, left/length)
			if on {
				dashes[len(dashes)-1] = append(dashes[len(dashes)-1], a)
			} else {
				dashes = append(dashes, []Point{a})
			}
			on, left, length = !on, dash, distance(a, b)
		}
		if left -= length; on {
			dashes[len(dashes)-1] = append(dashes[len(dashes)-1], b)
		}
	}
	return dashes
}

func distance(a, b Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// fill paints closed outlines, worked out on just as many pixels as show them; without a color
// it leaves them.
func (r *raster) fill(c *chart.Color, outlines ...[]Point) {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, outline := range outlines {
		for _, p := range outline {
			lo, hi = Point{min(lo.X, p.X), min(lo.Y, p.Y)}, Point{max(hi.X, p.X), max(hi.Y, p.Y)}
		}
	}
	area := pixels(Point{lo.X - 1, lo.Y - 1}, Point{hi.X + 1, hi.Y + 1}).Intersect(r.clip)
	if c == nil || area.Empty() {
		return
	}
	filled := vector.NewRasterizer(area.Dx(), area.Dy())
	for _, outline := range outlines {
		for i, p := range outline {
			to := filled.LineTo
			if i == 0 {
				to = filled.MoveTo
			}
			to(float32(p.X-float64(area.Min.X)), float32(p.Y-float64(area.Min.Y)))
		}
		filled.ClosePath()
	}
	filled.Draw(r.picture, area, uniform(c), image.Point{})
}
