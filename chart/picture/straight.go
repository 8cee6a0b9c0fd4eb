package picture

import (
	"image"
	"image/color"
	"math"
)

// A scan laid in by hand is turned a little, and a photo taken from the side narrows toward one end. In both the
// lines of a grid are no longer upright, and their edges no longer fall on a few pixel columns. So the columns are
// bent until they do: a place is moved across by
//
//	slant*y + narrowing*x*y + stretch*x*x    (x, y from -1 to 1 over the picture, moves in pixels)
//
// and slant and narrowing are those for which the sum of the squares of the edges on each column is largest: the
// slant is tried over the whole range first, at which the other does little, then both are improved in turn, in
// steps that are halved. Rows are treated likewise. A stretch brings no edges together, but is no unknown: a view
// from the side moves x to x/(1+gx+hy), y to y/(1+gx+hy), so the columns stretch by the g by which the rows narrow.
// Turns to 1.3 degrees and corners out of place by a fiftieth are found; beyond, no grid is, and the knitter is told
// so. It costs some 100 passes over the edges of 250 rows.
const (
	steepest   = 0.023 // slant, in pixels for each pixel: 1.3 degrees
	narrowest  = 0.02  // narrowing, as a share of the picture's side
	edgeLines  = 250   // lines of pixels whose edges are looked at
	worthBend  = 1.1   // times as sharp as it was, for the picture to be drawn anew
	leastBend  = 0.6   // pixels at a corner
	finestBend = 0.2   // pixels, of the last step
)

// bend is how far places are moved across, in pixels.
type bend struct{ slant, narrowing, stretch float64 }

func (b bend) at(x, y float64) float64 { return b.slant*y + b.narrowing*x*y + b.stretch*x*x }

func (b bend) most() float64 {
	return math.Abs(b.slant) + math.Abs(b.narrowing) + math.Abs(b.stretch)
}

// edgeAt is an edge in one line of pixels: its place across, from -1 to 1 and in pixels.
type edgeAt struct{ x, y, at, energy float64 }

// straighten draws a rough picture, whose cells are to be found, anew with its lines upright, and notes it.
func (f *pictureFile) straighten(o Options, report *Report) {
	p := f.pixels
	if o.CellWidth > 0 || !f.rough || !f.lossy && max(p.width, p.height) <= iconSide {
		return
	}
	across, down := p.sharpest(), p.turned().sharpest()
	w, h := float64(p.width), float64(p.height)
	across.stretch, down.stretch = down.narrowing*w/h, across.narrowing*h/w
	if most := max(across.most(), down.most()); most >= leastBend {
		f.pixels = bent(p, across, down)
		report.note("the picture is turned or tilted, by up to %.0f pixels: it was straightened before it was read", math.Ceil(most))
	}
}

func (p *pixels) edgesOfSome() []edgeAt {
	var edges []edgeAt
	step := max(1, p.height/edgeLines)
	for y := step / 2; y < p.height; y += step {
		p.eachEdge(y, true, func(x, d int) {
			edges = append(edges, edgeAt{2*float64(x)/float64(p.width) - 1, 2*float64(y)/float64(p.height) - 1, float64(x), float64(d)})
		})
	}
	return edges
}

// sharpest is the bend that brings the edges together; none where it hardly does.
func (p *pixels) sharpest() bend {
	edges := p.edgesOfSome()
	columns := make([]float64, p.width+2)
	sharpness := func(b bend) float64 {
		clear(columns)
		for _, e := range edges {
			to := e.at + b.at(e.x, e.y)
			if first := int(math.Floor(to)); first >= 0 && first <= p.width {
				columns[first] += e.energy * (float64(first+1) - to)
				columns[first+1] += e.energy * (to - float64(first))
			}
		}
		sum := 0.0
		for _, n := range columns {
			sum += n * n
		}
		return sum
	}
	straight := sharpness(bend{})
	best, most, limit := bend{}, straight, narrowest*float64(p.width)
	try := func(slant, narrowing float64) bool {
		b := bend{slant: slant, narrowing: narrowing}
		s := sharpness(b)
		better := s > most && math.Abs(narrowing) <= limit
		if better {
			best, most = b, s
		}
		return better
	}
	for slant, end := 0.5, steepest*float64(p.height)/2; slant <= end; slant += 0.5 {
		try(slant, 0)
		try(-slant, 0)
	}
	for step := limit / 2; step >= finestBend; step /= 2 {
		for moved := true; moved; {
			moved = false
			for _, by := range []float64{step, -step} {
				moved = try(best.slant+by, best.narrowing) || moved
				moved = try(best.slant, best.narrowing+by) || moved
			}
		}
	}
	if most < worthBend*straight {
		return bend{}
	}
	return best
}

// bent draws a picture anew. A pixel comes from where its own move leads back to: moves hardly change over their
// length.
func bent(p *pixels, across, down bend) *pixels {
	out := image.NewNRGBA(image.Rect(0, 0, p.width, p.height))
	w, h := float64(p.width), float64(p.height)
	for v := range p.height {
		for u := range p.width {
			x, y := float64(u), float64(v)
			nx, ny := 2*x/w-1, 2*y/h-1
			out.SetNRGBA(u, v, p.between(x-across.at(nx, ny), y-down.at(ny, nx)))
		}
	}
	return &pixels{p.width, p.height, out.NRGBAAt}
}

// between is the color at a place between pixels; outside the picture that of its edge.
func (p *pixels) between(x, y float64) color.NRGBA {
	x, y = min(max(x, 0), float64(p.width-1)), min(max(y, 0), float64(p.height-1))
	left, top := int(x), int(y)
	right, below := min(left+1, p.width-1), min(top+1, p.height-1)
	dx, dy := x-float64(left), y-float64(top)
	a, b, c, d := p.at(left, top), p.at(right, top), p.at(left, below), p.at(right, below)
	mix := func(a, b, c, d uint8) uint8 {
		return uint8(0.5 + (1-dy)*((1-dx)*float64(a)+dx*float64(b)) + dy*((1-dx)*float64(c)+dx*float64(d)))
	}
	return color.NRGBA{mix(a.R, b.R, c.R, d.R), mix(a.G, b.G, c.G, d.G), mix(a.B, b.B, c.B, d.B), mix(a.A, b.A, c.A, d.A)}
}
