package picture

import (
	"fmt"
	"math"
	"slices"

	"strandwise/chart"
)

// Where a grid ends is told by what stands beside it. Beside drawn lines there may be one
// cell more, where a chart has no frame. Blocks either fill the picture, or stand on paper
// of one color; where a yarn has that color too, whether the chart goes on in it cannot be
// seen, and the knitter is asked.

// side is one side of a grid in a picture.
type side struct {
	name string
	d    *direction
	a    *axis
	by   *axis // the other one, along the side
	far  bool  // right or bottom
}

func (s gridSearch) sides(g *lattice) []side {
	return []side{
		{"left", s.x, &g.x, &g.y, false}, {"right", s.x, &g.x, &g.y, true}, {"top", s.y, &g.y, &g.x, false}, {"bottom", s.y, &g.y, &g.x, true},
	}
}

// room is how many pixels there are between the grid and the picture's edge.
func (s side) room() float64 {
	if s.far {
		return float64(s.d.size) - s.a.end()
	}
	return s.a.start
}

// extend takes cells to the grid on this side.
func (s side) extend(cells int) {
	if s.a.count += cells; !s.far {
		s.a.start -= float64(cells) * s.a.pitch
	}
}

// bare reports whether what is between the grid and the picture's edge is of one color, as
// paper is. It is looked at in strips narrower than a cell.
func (s side) bare() bool {
	from, to := 0, int(s.a.start-s.a.line)
	if s.far {
		from, to = int(math.Ceil(s.a.end()+s.a.line)), s.d.size
	}
	if s.d.rough && to-from > 6 { // blurred edges are neither
		from, to = from+2, to-2
	}
	strips := max(1, int(float64(to-from)/(s.a.pitch/2)))
	for i := range strips {
		if !s.plain(from+(to-from)*i/strips, from+(to-from)*(i+1)/strips) {
			return false
		}
	}
	return true
}

// paper is the color of the picture's edge.
func (s side) paper() chart.Color {
	if s.far {
		return lineMedian(s.d.at, s.d.size-1, s.d.along)
	}
	return lineMedian(s.d.at, 0, s.d.along)
}

// ring is what a row of cells along a side is: the share of those of one color, other than the
// paper's, and of those with something drawn in them.
type ring struct{ inked, signed float64 }

// ring reads the cells next to the grid on this side, or those inward of them by a number of cells.
func (s side) ring(inward int) ring {
	next := axis{start: s.a.start + float64(inward-1)*s.a.pitch, pitch: s.a.pitch, count: 1, line: s.a.line}
	if s.far {
		next.start = s.a.end() - float64(inward)*s.a.pitch
	}
	paper := s.paper()
	var r ring
	for _, row := range cellsAt(s.d.at, next.inner(s.d.size), s.by.inner(s.d.along)) {
		for _, c := range row {
			switch share := 1 / float64(s.by.count); {
			case c.doubtful || c.signed:
				r.signed += share
			case !c.empty && channels(c.color, paper) > plainDiffers:
				r.inked += share
			}
		}
	}
	return r
}

// By these a chart may go on beyond the lines that were found.
const (
	inked   = 0.2  // share of the cells there that have a color of their own
	lined   = 0.6  // share of the lines across that are seen there
	written = 0.07 // share of cells by which it may be writing
)

// endLines finds the ends of a grid of drawn lines.
func (s gridSearch) endLines(g *lattice) {
	for _, e := range s.sides(g) {
		near := max(1.5, 0.15*e.a.pitch) + e.a.line
		switch {
		case e.room() <= near:
		case e.bare() || e.onPaper():
			e.endOnPaper(g)
		default:
			cells := math.Round(e.room() / e.a.pitch)
			if math.Abs(e.room()-cells*e.a.pitch) > near/2 {
				g.ask("the picture ends within a cell at the %s: crop it to whole cells", e.name)
			} else if cells > 1 {
				g.ask("the chart may end sooner at the %s: few lines show there", e.name)
			}
			e.extend(int(cells))
		}
	}
}

// endOnPaper takes in what goes on beyond the lines, and asks where what it took in, or left,
// may be something else: numbers, a title.
func (s side) endOnPaper(g *lattice) {
	before, next, bare := s.a.count, s.ring(0), s.bare()
	for !bare && s.room() > s.a.pitch && (next.inked >= inked || s.crossed()) {
		s.extend(1)
		next = s.ring(0)
	}
	outer := s.ring(1)
	cell := s.room() >= s.a.pitch-s.a.line-1.5 && s.room() <= s.a.pitch+1.5 // one row more, or a margin as wide
	writing := !bare && next.inked >= written && s.room() > s.a.pitch
	if cell || writing || outer.inked < inked || outer.signed >= written || before < s.a.count {
		g.ask("where the chart ends at the %s is not clear: crop the picture to the chart", s.name)
	}
}

// crossed reports whether the lines across go on beyond the grid, through cells that have the
// color of the paper. Numbers beside a chart stand between the lines.
func (s side) crossed() bool {
	paper, lines := s.paper(), 0
	middle := int(s.a.start - s.a.pitch/2)
	if s.far {
		middle = int(s.a.end() + s.a.pitch/2)
	}
	for k := 1; k < s.by.count; k++ {
		line := int(s.by.start + float64(k)*s.by.pitch)
		if slices.ContainsFunc([]int{line - 1, line, line + 1}, func(y int) bool {
			return channels(opaque(s.d.at(middle, y)), paper) > plainDiffers
		}) {
			lines++
		}
	}
	return float64(lines) >= lined*float64(s.by.count-1) && s.by.count > 2
}

// onPaper reports whether the picture's edge is paper: a plain strip, wider than a line.
func (s side) onPaper() bool {
	wide := max(3, int(s.a.pitch/3))
	if s.far {
		return s.plain(s.d.size-wide, s.d.size)
	}
	return s.plain(0, wide)
}

// plain reports whether the pixels from..to-1 beside the chart are of one color.
func (s side) plain(from, to int) bool {
	return plainPixels(s.d.at, from, to, max(0, int(s.by.start)), min(s.d.along, int(s.by.end()))-1, s.d.rough)
}

// endBlocks finds the ends of a grid without lines.
func (s gridSearch) endBlocks(g *lattice) {
	xFilled, yFilled := s.x.fill(&g.x), s.y.fill(&g.y)
	framed := xFilled && yFilled // in cells of one color, which may be paper
	for _, e := range s.sides(g) {
		framed = framed && e.ring(1) == ring{}
		if e.room() >= nearEdge(*e.a) {
			if !e.bare() {
				g.ask("what stands at the %s of the chart may belong to it: crop the picture to the chart", e.name)
			}
			g.papers = append(g.papers, e.paper())
		}
	}
	if framed {
		g.ask("the outermost cells are plain: if they are a margin, crop it off")
	}
}

// fill takes cells up to the picture's edges when whole ones fill it.
func (d *direction) fill(a *axis) bool {
	before, after := a.start/a.pitch, (float64(d.size)-a.end())/a.pitch
	near := nearEdge(*a) / a.pitch
	if math.Abs(before-math.Round(before)) > near || math.Abs(after-math.Round(after)) > near {
		return false
	}
	a.count += int(math.Round(before) + math.Round(after))
	a.start, a.pitch = 0, float64(d.size)/float64(a.count)
	return true
}

// nearEdge is how far from the picture's edge, in pixels, a grid may end that fills it.
func nearEdge(a axis) float64 {
	if a.pitch == math.Trunc(a.pitch) {
		return 0.5
	}
	return max(0.75, 0.12*a.pitch)
}

// ask adds a question only the knitter can answer.
func (g *lattice) ask(format string, args ...any) {
	g.questions = append(g.questions, fmt.Sprintf(format, args...))
}

// askAboutPaper asks where a yarn has the color of the paper around blocks.
func (g *lattice) askAboutPaper(cells [][]colorCell) {
	onPaper := func(c colorCell) bool {
		return !c.empty && slices.ContainsFunc(g.papers, func(p chart.Color) bool { return channels(c.color, p) <= plainDiffers })
	}
	if slices.ContainsFunc(cells, func(row []colorCell) bool { return slices.ContainsFunc(row, onPaper) }) {
		g.ask("a yarn has the color of the margin, so where the chart ends cannot be seen: crop the picture to the chart")
	}
}
