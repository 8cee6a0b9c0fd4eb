package chart

import (
	"fmt"
	"math"
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
	far  bool // right or bottom
}

func (s gridSearch) sides(g *lattice) []side {
	return []side{{"left", s.x, &g.x, false}, {"right", s.x, &g.x, true}, {"top", s.y, &g.y, false}, {"bottom", s.y, &g.y, true}}
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

// bare reports whether the strip between the grid and the picture's edge is of one color.
func (s side) bare() bool {
	if s.far {
		return s.d.plain(int(s.a.end()+s.a.line)+1, s.d.size)
	}
	return s.d.plain(0, int(s.a.start-s.a.line))
}

// paper is the color of the picture's edge.
func (s side) paper() Color {
	if s.far {
		return s.d.lineColor(s.d.size - 1)
	}
	return s.d.lineColor(0)
}

// beyond reads the cells next to the grid on this side.
func (s side) beyond(g *lattice, p *pixels) []colorCell {
	strip, at := *g, s.a.end()
	if !s.far {
		at = s.a.start - s.a.pitch
	}
	next := axis{at, s.a.pitch, 1, s.a.line, 0}
	if s.a == &g.x {
		strip.x = next
	} else {
		strip.y = next
	}
	var cells []colorCell
	for _, row := range strip.cells(p) {
		cells = append(cells, row...)
	}
	return cells
}

const (
	inkedSure  = 0.6 // share of cells beyond the lines that have a color of their own: the chart goes on
	inkedMaybe = 0.2 // it may
)

// endLines finds the ends of a grid of drawn lines.
func (s gridSearch) endLines(g *lattice) {
	for _, e := range s.sides(g) {
		room, near := e.room(), max(1.5, 0.15*e.a.pitch)+e.a.line
		switch {
		case room <= near:
		case room < e.a.pitch-near:
			if !e.bare() {
				g.ask("the picture ends within a cell at the %s: crop it to whole cells", e.name)
			}
		case room <= e.a.pitch+near:
			if !e.bare() {
				e.extend(1)
			}
		default:
			switch inked := inkedShare(e.beyond(g, s.pixels), e.paper()); {
			case inked >= inkedSure:
				e.extend(1)
			case inked >= inkedMaybe:
				g.ask("the chart may go on at the %s, beyond the last line", e.name)
			}
		}
	}
}

// inkedShare is the share of cells that are of one color, other than the paper's.
func inkedShare(cells []colorCell, paper Color) float64 {
	n := 0
	for _, c := range cells {
		if !c.doubtful && !c.empty && channels(c.color, paper) > plainDiffers {
			n++
		}
	}
	return float64(n) / float64(len(cells))
}

// endBlocks finds the ends of a grid without lines.
func (s gridSearch) endBlocks(g *lattice) {
	rings := math.MaxInt
	for _, a := range []struct {
		d *direction
		a *axis
	}{{s.x, &g.x}, {s.y, &g.y}} {
		before, after, whole := a.a.filling(a.d.size, a.d.rough)
		if !whole {
			rings = 0
			continue
		}
		rings = min(rings, before, after)
		a.a.start -= float64(before) * a.a.pitch
		a.a.count += before + after
		a.a.pitch = float64(a.d.size) / float64(a.a.count)
		a.a.start = 0
	}
	if rings > 0 && s.framedInPaper(g) {
		g.ask("the outermost cells are all of one color: if they are a margin, crop it off")
	}
	for _, e := range s.sides(g) {
		if e.room() < nearEdge(e.a.pitch, e.d.rough) {
			continue
		}
		if !e.bare() {
			g.ask("what stands at the %s of the chart may belong to it: crop the picture to the chart", e.name)
		}
		g.papers = append(g.papers, e.paper())
	}
}

// nearEdge is how far from the picture's edge, in pixels, a grid may end that fills it.
func nearEdge(pitch float64, rough bool) float64 {
	if rough {
		return max(0.75, 0.06*pitch)
	}
	return 0.5
}

// filling reports whether whole cells fill the picture on both sides of the axis, and how
// many.
func (a axis) filling(size int, rough bool) (before, after int, whole bool) {
	b, e := a.start/a.pitch, (float64(size)-a.end())/a.pitch
	before, after = int(math.Round(b)), int(math.Round(e))
	near := nearEdge(a.pitch, rough) / a.pitch
	return before, after, math.Abs(b-float64(before)) <= near && math.Abs(e-float64(after)) <= near
}

// framedInPaper reports whether the four sides of the picture have one color.
func (s gridSearch) framedInPaper(g *lattice) bool {
	sides := s.sides(g)
	for _, e := range sides[1:] {
		if channels(e.paper(), sides[0].paper()) > plainDiffers {
			return false
		}
	}
	return true
}

// ask adds a question only the knitter can answer.
func (g *lattice) ask(format string, args ...any) {
	g.questions = append(g.questions, fmt.Sprintf(format, args...))
}

// askAboutPaper asks where a yarn has the color of the paper around blocks.
func (g *lattice) askAboutPaper(cells [][]colorCell) {
	for _, paper := range g.papers {
		for _, row := range cells {
			for _, c := range row {
				if !c.empty && channels(c.color, paper) <= plainDiffers {
					g.ask("a yarn has the color of the margin, so where the chart ends cannot be seen: crop the picture to the chart")
					return
				}
			}
		}
	}
}
