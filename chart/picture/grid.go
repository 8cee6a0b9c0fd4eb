package picture

import (
	"cmp"
	"errors"
	"fmt"
	"image"

	"strandwise/chart"
)

type lattice struct {
	x, y   axis
	rough  bool          // the colors are not exact
	papers []chart.Color // of the margins around blocks
}

const giveGrid = "give --column-count and --row-count, or the size of a cell"

// chooseGrid tells the report how the grid was come by, and what it asks.
func chooseGrid(f *pictureFile, o Options, report *Report) (*lattice, error) {
	p := f.pixels
	switch {
	case o.CellWidth == 1 && o.CellHeight == 1, o.Columns == p.width && o.Rows == p.height:
		return pixelGrid(f), nil
	case o.CellWidth > 0:
		report.Reading = GivenGrid
		x, wide := cellAxis(p.width, o.CellWidth, "wide")
		y, high := cellAxis(p.height, o.CellHeight, "high")
		return &lattice{x: x, y: y, rough: f.rough}, cmp.Or(wide, high)
	}
	search := newSearch(p, f.rough, report)
	if o.Columns > 0 || o.Rows > 0 {
		return search.counted(o)
	}
	return search.found(f)
}

// crop leaves that part of the picture in which edges run through.
func (f *pictureFile) crop() error {
	search := newSearch(f.pixels, f.rough, nil)
	part := image.Rect(search.y.begin, search.x.begin, search.y.end, search.x.end)
	if part.Dx() < 2 || part.Dy() < 2 {
		return errors.New("no chart can be seen in the picture; crop it by hand")
	}
	f.pixels = f.pixels.cropped(part)
	return nil
}

func pixelGrid(f *pictureFile) *lattice {
	return &lattice{x: axis{pitch: 1, count: f.pixels.width}, y: axis{pitch: 1, count: f.pixels.height}, rough: f.lossy}
}

// cellAxis lays cells from the upper left corner on. What is left over may be a closing line, not a part of a cell.
func cellAxis(size, cell int, what string) (axis, error) {
	count, left := size/cell, size%cell
	if count == 0 || left > cell/5 && left > 1 {
		return axis{}, fmt.Errorf("the picture is %d pixels %s, which is %.1f cells of %d; crop it to whole cells or give --column-count and --row-count",
			size, what, float64(size)/float64(cell), cell)
	}
	return axis{pitch: float64(cell), count: count}, nil
}

type gridSearch struct {
	x, y   *direction
	report *Report
}

func newSearch(across *pixels, rough bool, report *Report) gridSearch {
	down := across.turned()
	x, y := across.edges(rough), down.edges(rough)
	left, right := bounds(x)
	top, bottom := bounds(y)
	return gridSearch{&direction{across, x, rough, top, bottom}, &direction{down, y, rough, left, right}, report}
}

// counted takes the given number of columns and rows, in the place of a grid with as many cells where the picture
// shows one, else over the picture. A number not given must be found.
func (s gridSearch) counted(o Options) (*lattice, error) {
	g, _ := s.grid()
	if g == nil {
		g = &lattice{rough: s.x.rough}
	}
	if s.report.Reading = GivenGrid; o.Columns > 0 && o.Rows > 0 {
		s.report.Questions, g.papers = nil, nil // where the chart ends is told by the counts
	}
	return g, cmp.Or(
		s.x.counted(s.report, &g.x, o.Columns, "columns", s.y.begin, s.y.end),
		s.y.counted(s.report, &g.y, o.Rows, "rows", s.x.begin, s.x.end))
}

// counted lays the number over the whole picture when no grid was found, or another. Between first and last it is not
// plain.
func (d *direction) counted(report *Report, a *axis, count int, what string, first, last int) error {
	flag := "--" + what[:len(what)-1] + "-count"
	switch {
	case a.count > 0 && (count == 0 || count == a.count):
		return nil
	case count == 0:
		return fmt.Errorf("the number of %s cannot be seen in the picture; give %s too", what, flag)
	case count > d.width:
		return fmt.Errorf("%d %s do not fit in %d pixels; give a smaller number", count, what, d.width)
	}
	if a.count > 0 {
		report.ask("by its edges the picture has %d %s, not %d", a.count, what, count)
	}
	*a = axis{pitch: float64(d.width) / float64(count), count: count}
	if float64(first) > a.pitch/2 || float64(d.width-last) > a.pitch/2 {
		report.ask("the %s were laid over the whole picture, and %d pixels before and %d after them are plain: if that is a margin, --crop", what, first, d.width-last)
	}
	return nil
}

// grid finds the grid both ways, lines before blocks. Evident is one that no small picture has by chance.
func (s gridSearch) grid() (g *lattice, evident bool) {
	x, y := s.x.find(), s.y.find()
	found := x.count > 0 && y.count > 0
	lines := found && (x.drawn || y.drawn)
	evident = lines && x.drawn && y.drawn && !s.x.rough
	if !s.x.rough && !lines {
		if xBlocks, yBlocks := s.x.blocks(), s.y.blocks(); xBlocks.count > 0 && yBlocks.count > 0 {
			x, y, found, evident = xBlocks, yBlocks, true, true
		}
	}
	if !found {
		return nil, false
	}
	g, s.report.Reading = &lattice{x: x, y: y, rough: s.x.rough}, Blocks
	if lines {
		s.report.Reading = GridLines
		s.endLines(g)
	} else {
		s.endBlocks(g)
	}
	s.askAboutCells(g)
	return g, evident
}

const (
	oblongest   = 1.6  // times as wide as high, or the reverse, that hardly a stitch is
	fewestMarks = 4    // lines of a sharp grid that must show for its size to be sure
	seenShare   = 0.75 // share of the lines between blocks that must
	smallCell   = 6    // pixels, below which a small picture may be all pixels
	smallRough  = 5    // pixels of a cell, blurred or lined, from which it is sure
)

func (s gridSearch) askAboutCells(g *lattice) {
	large, small := max(g.x.pitch, g.y.pitch), min(g.x.pitch, g.y.pitch)
	marks := min(g.x.marks, g.y.marks)
	pixel := max(s.x.width, s.x.height) <= smallPicture && small < smallCell
	hidden := func(a axis) bool { return float64(a.marks) < seenShare*float64(a.count) }
	switch {
	case large > oblongest*small:
		s.report.ask("cells of %.4g by %.4g pixels are no shape of a stitch: %s", g.x.pitch, g.y.pitch, giveGrid)
	case small < 2.5, pixel && marks < fewestMarks:
		s.report.ask("the picture may also be read as one pixel a stitch: --cell 1x1")
	case marks < fewestMarks, hidden(g.x), hidden(g.y):
		s.report.ask("few edges show the grid: %s", giveGrid)
	case (s.x.rough || s.report.Reading == GridLines) && small < smallRough:
		s.report.ask("the cells are few pixels large, and blurred or lined: %s", giveGrid)
	}
}

// blocks finds cells that touch in a sharp picture: their size divides the way between any two edges. A strip at the
// picture's edge that is not plain is no margin, so a cell begins there too. The count is 0 where there are none.
func (d *direction) blocks() axis {
	first, last := marked(d.energy, 1)
	if last <= first {
		return axis{}
	}
	if !d.plain(0, first, 0, d.height) {
		first = 0
	}
	if !d.plain(last, d.width, 0, d.height) {
		last = d.width
	}
	divisor, marks := last-first, 0
	for at, n := range d.energy {
		if n == 0 {
			continue
		}
		marks++
		for rest := at - first; rest != 0; { // Euclid's way to the greatest common divisor
			divisor, rest = rest, divisor%rest
		}
	}
	if divisor < 2 {
		return axis{}
	}
	return axis{start: float64(first), pitch: float64(divisor), count: (last - first) / divisor, marks: marks}
}

// Sides in pixels.
const (
	smallPicture = 128 // up to this a picture may be one pixel a stitch whatever its colors
	iconSide     = 64  // up to this it is, unless it has blocks
)

func (s gridSearch) found(f *pictureFile) (*lattice, error) {
	g, evident := s.grid()
	side := max(s.x.width, s.x.height)
	if g != nil && (evident || f.lossy || side > iconSide) {
		return g, nil
	}
	if f.lossy {
		return nil, errors.New("no grid can be seen in the picture, and a JPEG cannot be read pixel by pixel; crop it to the chart, then " + giveGrid)
	}
	if side > smallPicture && s.x.rough {
		return nil, errors.New("no grid can be seen in the picture, and it has too many colors to be one pixel a stitch; crop it to the chart, then " + giveGrid)
	}
	s.report.Reading, s.report.Questions = OnePixel, nil
	if g != nil || side > iconSide {
		s.report.ask("each pixel was read as a stitch: if it is not, %s", giveGrid)
	}
	return pixelGrid(f), nil
}
