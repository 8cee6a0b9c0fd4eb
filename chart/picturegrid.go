package chart

import (
	"errors"
	"fmt"
)

// lattice is where the cells of a chart lie in a picture.
type lattice struct {
	reading Reading
	x, y    axis
}

const giveGrid = "give --columns and --rows, or the size of a cell"

// chooseGrid takes the grid from the options or finds it.
func chooseGrid(p *pixels, lossy bool, o PictureOptions) (*lattice, error) {
	switch {
	case o.CellWidth > 0:
		return cellGrid(p, o)
	case o.Columns == p.width && o.Rows == p.height:
		return pixelGrid(p), nil
	}
	across, down := pictureEdges(p, lossy)
	search := newSearch(p, lossy, across, down)
	if o.Columns > 0 || o.Rows > 0 {
		return search.counted(o)
	}
	return search.found(p, lossy)
}

// pixelGrid reads one pixel a stitch.
func pixelGrid(p *pixels) *lattice {
	return &lattice{OnePixel, axis{0, 1, p.width, 0, 0}, axis{0, 1, p.height, 0, 0}}
}

// cellGrid lays cells of the given size from the upper left corner on. What is
// left over may be a closing line, not a part of a cell.
func cellGrid(p *pixels, o PictureOptions) (*lattice, error) {
	if o.CellWidth == 1 && o.CellHeight == 1 {
		return pixelGrid(p), sizeOfGrid(p.width, p.height)
	}
	x, err := cellAxis(p.width, o.CellWidth, "wide")
	if err != nil {
		return nil, err
	}
	y, err := cellAxis(p.height, o.CellHeight, "high")
	if err != nil {
		return nil, err
	}
	return &lattice{GivenGrid, x, y}, sizeOfGrid(x.count, y.count)
}

func cellAxis(size, cell int, what string) (axis, error) {
	count, left := size/cell, size%cell
	if count == 0 || left > cell/5 && left > 1 {
		return axis{}, fmt.Errorf("the picture is %d pixels %s, which is %.1f cells of %d; crop it to whole cells or give --columns and --rows",
			size, what, float64(size)/float64(cell), cell)
	}
	return axis{0, float64(cell), count, 0, 0}, nil
}

func sizeOfGrid(columns, rows int) error {
	if columns > MaxColumns || rows > MaxRows {
		return fmt.Errorf("the picture would have %d columns and %d rows; a chart has at most %d and %d: crop it, or "+giveGrid,
			columns, rows, MaxColumns, MaxRows)
	}
	return nil
}

// gridSearch looks for the grid in both directions of a picture.
type gridSearch struct{ x, y *direction }

func newSearch(p *pixels, lossy bool, across, down edges) gridSearch {
	left, right := across.bounds()
	top, bottom := down.bounds()
	return gridSearch{
		&direction{
			across, p.width, lossy,
			func(places []float64, wide int) bool { return drawnLines(p.at, places, wide, top, bottom, lossy) },
			func(from, to int) bool { return plainPixels(p.at, from, to, top, bottom, lossy) },
		},
		&direction{
			down, p.height, lossy,
			func(places []float64, wide int) bool { return drawnLines(p.turned, places, wide, left, right, lossy) },
			func(from, to int) bool { return plainPixels(p.turned, from, to, left, right, lossy) },
		},
	}
}

// counted takes the given number of columns and rows; where the picture shows a
// grid with as many cells, its place is taken from there, else the cells fill the
// picture. One number that is not given must be found.
func (s gridSearch) counted(o PictureOptions) (*lattice, error) {
	x, err := s.x.counted(o.Columns, "columns")
	if err != nil {
		return nil, err
	}
	y, err := s.y.counted(o.Rows, "rows")
	if err != nil {
		return nil, err
	}
	return &lattice{GivenGrid, x, y}, sizeOfGrid(x.count, y.count)
}

func (d *direction) counted(count int, what string) (axis, error) {
	found, _, ok := d.find()
	switch {
	case ok && (count == 0 || count == found.count):
		return found, nil
	case count == 0:
		return axis{}, fmt.Errorf("the number of %s cannot be seen in the picture; give --%s too", what, what)
	case count > d.size:
		return axis{}, fmt.Errorf("%d %s do not fit in %d pixels; give a smaller number", count, what, d.size)
	}
	return axis{0, float64(d.size) / float64(count), count, 0, 0}, nil
}

// found decides between a grid that shows and one pixel a stitch. Blocks of few
// pixels can be the pattern of a small chart as well as the cells of a larger
// picture, so without lines a grid counts when the cells are large, or the
// picture too large for a chart of that many pixels.
func (s gridSearch) found(p *pixels, lossy bool) (*lattice, error) {
	x, xDrawn, xOK := s.x.find()
	y, yDrawn, yOK := s.y.find()
	if xOK && yOK {
		g := &lattice{Blocks, x, y}
		if xDrawn || yDrawn {
			g.reading = GridLines
		}
		if g.reading == GridLines || largeBlocks(x, y, p) {
			return g, sizeOfGrid(x.count, y.count)
		}
	}
	if lossy {
		return nil, errors.New("no grid can be seen in the picture, and a JPEG cannot be read pixel by pixel; " + giveGrid)
	}
	if max(p.width, p.height) > smallPicture && manyColors(p) {
		return nil, errors.New("no grid can be seen in the picture, and it has too many colors to be one pixel a stitch; " + giveGrid)
	}
	return pixelGrid(p), sizeOfGrid(p.width, p.height)
}

// smallPicture is the side, in pixels, up to which a picture is taken for one
// pixel a stitch however many colors it has.
const smallPicture = 128

func largeBlocks(x, y axis, p *pixels) bool {
	cell, side := min(x.pitch, y.pitch), max(p.width, p.height)
	long := max(x.pitch, y.pitch) > 2*cell // no stitch is: this is the pattern
	enough := cell >= 8 || cell >= 5 && x.marks+y.marks >= 8 || cell >= 4 && side > 64 || side > 150
	return !long && enough
}

// manyColors reports more than 64 different colors.
func manyColors(p *pixels) bool {
	seen := map[Color]bool{}
	for y := range p.height {
		for x := range p.width {
			c := p.at(x, y)
			seen[Color{c.R, c.G, c.B}] = true
			if len(seen) > 64 {
				return true
			}
		}
	}
	return false
}
