package picture

import (
	"math"
	"slices"

	"strandwise/chart"
)

// Where a grid ends is told by what stands beside it. Beside drawn lines there may be one cell more, where a chart
// has no frame. Blocks either fill the picture, or stand on paper of one color; where a yarn has that color too,
// whether the chart goes on in it cannot be seen, and the knitter is asked.

// side is one side of a grid in a picture, its pixels counted from the picture's edge on.
type side struct {
	name string
	d    direction
	a    *axis
	by   *axis // the other one, along the side
	far  bool  // right or bottom
}

func (s gridSearch) sides(g *lattice) []side {
	return []side{
		{"left", *s.x, &g.x, &g.y, false},
		{"right", s.x.mirrored(), &g.x, &g.y, true},
		{"top", *s.y, &g.y, &g.x, false},
		{"bottom", s.y.mirrored(), &g.y, &g.x, true},
	}
}

func (d direction) mirrored() direction {
	d.pixels = d.pixels.mirrored()
	return d
}

func (s side) room() float64 {
	if s.far {
		return float64(s.d.width) - s.a.end()
	}
	return s.a.start
}

func (s side) extend(cells int) {
	if s.a.count += cells; !s.far {
		s.a.start -= float64(cells) * s.a.pitch
	}
}

// bare reports whether all between the grid and the picture's edge is of one color, in strips narrower than a cell.
func (s side) bare() bool {
	room := int(s.room() - s.a.line)
	strips := max(1, int(float64(room)/(s.a.pitch/2)))
	for i := range strips {
		if !s.plain(room*i/strips, room*(i+1)/strips) {
			return false
		}
	}
	return true
}

func (s side) paper() chart.Color {
	var colors []chart.Color
	for along := range s.d.height {
		colors = append(colors, opaque(s.d.at(0, along)))
	}
	return medianColor(colors)
}

// ring tells of the cells beside the grid, or so far inward of those, what share is of one color other than the
// paper's, and in what share something is drawn.
func (s side) ring(inward int) (inked, signed float64) {
	next := axis{start: s.room() + float64(inward-1)*s.a.pitch, pitch: s.a.pitch, count: 1, line: s.a.line}
	paper, share := s.paper(), 1/float64(s.by.count)
	for _, row := range cellsAt(s.d.pixels, next.inner(s.d.width), s.by.inner(s.d.height)) {
		for _, c := range row {
			switch {
			case c.doubtful || c.signed:
				signed += share
			case !c.empty && channels(c.color, paper) > plainDiffers:
				inked += share
			}
		}
	}
	return inked, signed
}

// By these a chart may go on beyond the lines that were found.
const (
	inked   = 0.2  // share of the cells there that have a color of their own
	written = 0.07 // share of cells by which it may be writing
)

func (s gridSearch) endLines(g *lattice) {
	for _, e := range s.sides(g) {
		near := max(1.5, 0.15*e.a.pitch) + e.a.line
		switch {
		case e.room() <= near:
		case e.plain(0, max(3, int(e.a.pitch/3))): // wider than a line: paper
			e.endOnPaper(s.report)
		default:
			cells := math.Round(e.room() / e.a.pitch)
			if math.Abs(e.room()-cells*e.a.pitch) > near/2 {
				s.report.ask("the picture ends within a cell at the %s: crop it to whole cells", e.name)
			}
			e.extend(int(cells))
		}
	}
}

// endOnPaper takes in what goes on beyond the lines, and asks where that, or what it left, may be numbers or a title.
func (s side) endOnPaper(report *Report) {
	before, bare := s.a.count, s.bare()
	for !bare && s.room() > s.a.pitch && s.goesOn() {
		s.extend(1)
	}
	next, _ := s.ring(0)
	writing := !bare && s.room() > s.a.pitch && next >= written
	if outer, signed := s.ring(1); writing || outer < inked || signed >= written || before < s.a.count {
		report.ask("where the chart ends at the %s is not clear: crop the picture to the chart", s.name)
	}
}

// goesOn reports whether colors are in the cells beside the grid, or lines between them, where numbers would stand.
func (s side) goesOn() bool {
	next, signed := s.ring(0)
	return next >= inked || signed == 0 && !s.plain(int(s.room()-s.a.pitch), int(s.room()))
}

// plain reports whether the pixels from..to-1 beside the chart are of one color.
func (s side) plain(from, to int) bool {
	return s.d.plain(from, to, max(0, int(s.by.start)), min(s.d.height, int(s.by.end())))
}

func (s gridSearch) endBlocks(g *lattice) {
	xFilled, yFilled := s.x.fill(&g.x), s.y.fill(&g.y)
	framed := xFilled && yFilled // in cells of one color, which may be paper
	for _, e := range s.sides(g) {
		outer, signed := e.ring(1)
		framed = framed && outer+signed == 0
		if e.room() >= nearEdge(*e.a) {
			if !e.bare() {
				s.report.ask("what stands at the %s of the chart may belong to it: crop the picture to the chart", e.name)
			}
			g.papers = append(g.papers, e.paper())
		}
	}
	if framed {
		s.report.ask("the outermost cells are plain: if they are a margin, crop it off")
	}
}

// fill takes cells up to the picture's edges when whole ones fill it.
func (d *direction) fill(a *axis) bool {
	before, after := a.start/a.pitch, (float64(d.width)-a.end())/a.pitch
	near := nearEdge(*a) / a.pitch
	if math.Abs(before-math.Round(before)) > near || math.Abs(after-math.Round(after)) > near {
		return false
	}
	a.count += int(math.Round(before) + math.Round(after))
	a.start, a.pitch = 0, float64(d.width)/float64(a.count)
	return true
}

// nearEdge is how far from the picture's edge, in pixels, a grid may end that fills it.
func nearEdge(a axis) float64 { return max(0.75, 0.12*a.pitch) }

func (g *lattice) askAboutPaper(cells [][]colorCell, report *Report) {
	onPaper := func(c colorCell) bool {
		return !c.empty && slices.ContainsFunc(g.papers, func(p chart.Color) bool { return channels(c.color, p) <= plainDiffers })
	}
	if slices.ContainsFunc(cells, func(row []colorCell) bool { return slices.ContainsFunc(row, onPaper) }) {
		report.ask("a yarn has the color of the margin, so where the chart ends cannot be seen: crop the picture to the chart")
	}
}
