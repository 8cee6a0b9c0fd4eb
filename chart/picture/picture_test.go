package picture

import (
	"fmt"
	"image"
	"image/draw"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/chart"
)

// drawings are ways in which people draw charts. A reader finds the grid in all.
var drawings = map[string]drawing{
	"12x10 lines inside":      {width: 11, height: 9, line: 1, lineColor: grayInk},
	"12x10 lines and frame":   {width: 11, height: 9, line: 1, lineColor: grayInk, frame: true},
	"12x10 lines between":     {width: 12, height: 10, line: 1, lineColor: grayInk},
	"12x10 framed":            {width: 12, height: 10, line: 1, lineColor: black, frame: true},
	"pale lines":              {width: 12, height: 10, line: 1, lineColor: paleGray, frame: true},
	"thick lines":             {width: 12, height: 10, line: 2, lineColor: black, frame: true},
	"margin":                  {width: 12, height: 10, line: 1, lineColor: grayInk, frame: true, margin: 17},
	"margin as wide as cells": {width: 11, height: 11, line: 1, lineColor: grayInk, frame: true, margin: 12},
	"large cells":             {width: 40, height: 32, line: 3, lineColor: black, frame: true},
}

// eachDrawing runs a check on every chart that is there, drawn in every way; large ones in one way.
func eachDrawing(t *testing.T, check func(*testing.T, drawing, *chart.Chart)) {
	for name, d := range drawings {
		for file, c := range goodCharts(t) {
			if name != "12x10 lines inside" && c.Width()*c.Height() > 600 {
				continue // for speed
			}
			t.Run(name+"/"+file, func(t *testing.T) {
				t.Parallel()
				check(t, d, c)
			})
		}
	}
}

func TestPicturesWithLines(t *testing.T) {
	eachDrawing(t, func(t *testing.T, d drawing, c *chart.Chart) {
		picture := d.picture(c)
		got, report := importPicture(t, asPNG(t, picture), Options{})
		assert.Equal(t, GridLines, report.Reading)
		requireSameColors(t, c, got, 0, false)
		assert.Zero(t, report.Doubtful)
	})
}

func TestPicturesWithLinesAsJPEG(t *testing.T) {
	eachDrawing(t, func(t *testing.T, d drawing, c *chart.Chart) {
		if nearYarns(c) > 0 && d.margin > 0 {
			return // gray lines between two grays are lost in the noise
		}
		got, report := importPicture(t, asJPEG(t, d.picture(c), 85), Options{Yarns: nearYarns(c)})
		if nearYarns(c) == 0 {
			assert.Equal(t, GridLines, report.Reading)
		}
		requireSameColors(t, c, got, 4, true)
	})
}

func TestPicturesOfOnePixelAStitch(t *testing.T) {
	for file, c := range goodCharts(t) {
		t.Run(file, func(t *testing.T) {
			picture := drawing{width: 1, height: 1}.picture(c)
			got, report := importPicture(t, asPNG(t, picture), Options{})
			assert.Equal(t, OnePixel, report.Reading)
			requireSameColors(t, c, got, 0, false)
			assert.Zero(t, report.Doubtful)
		})
	}
}

func TestPicturesWithoutLines(t *testing.T) {
	for _, size := range [][2]int{{12, 10}, {5, 5}, {25, 22}} {
		for file, c := range goodCharts(t) {
			if size[0] != 12 && c.Width()*c.Height() > 600 {
				continue // for speed
			}
			t.Run(fmt.Sprint(size, file), func(t *testing.T) {
				t.Parallel()
				picture := drawing{width: size[0], height: size[1]}.picture(c)
				got, _ := importPicture(t, asPNG(t, picture), Options{CellWidth: size[0], CellHeight: size[1]})
				requireSameColors(t, c, got, 0, false)
				got, _ = importPicture(t, asPNG(t, picture), Options{Columns: c.Width(), Rows: c.Height()})
				requireSameColors(t, c, got, 0, false)
				if file == "deck-stripes.chart" || size[0] == 5 && c.Width() < 12 {
					return // too little to see a grid by
				}
				got, report := importPicture(t, asPNG(t, picture), Options{})
				assert.Equal(t, Blocks, report.Reading)
				requireSameColors(t, c, got, 0, false)
				if size[0] > 5 {
					got, _ = importPicture(t, asJPEG(t, picture, 85), Options{Yarns: nearYarns(c)})
					requireSameColors(t, c, got, 4, true)
				}
			})
		}
	}
}

// nearYarns is the number of yarns when two are so near that a lossy picture
// cannot tell how many there are, else 0.
func nearYarns(c *chart.Chart) int {
	for _, p := range c.Pairs() {
		if p.DeltaE < ApartDeltaE {
			return len(c.Yarns)
		}
	}
	return 0
}

// Row numbers beside a chart and darker lines every five stitches do not hide the
// grid.
func TestPicturesWithNumbersBeside(t *testing.T) {
	d := drawing{width: 12, height: 10, line: 1, lineColor: grayInk, frame: true, margin: 28}
	for file, c := range goodCharts(t) {
		if nearYarns(c) > 0 || c.Width()*c.Height() > 1000 {
			continue // grays between gray lines; for speed
		}
		t.Run(file, func(t *testing.T) {
			p := d.picture(c)
			scribble(p, d, c)
			for _, data := range [][]byte{asPNG(t, p), asJPEG(t, p, 85)} {
				got, report := importPicture(t, data, Options{})
				assert.Equal(t, GridLines, report.Reading)
				requireSameColors(t, c, got, 4, true)
			}
		})
	}
}

// scribble draws something like digits at the right and below, and every fifth
// line in black.
func scribble(p *image.NRGBA, d drawing, c *chart.Chart) {
	random := rand.New(rand.NewPCG(1, 1))
	digit := func(x, y int) {
		for i := range 35 {
			if random.IntN(2) == 0 {
				p.SetNRGBA(x+i%5, y+i/5, black)
			}
		}
	}
	right, bottom := p.Rect.Dx()-d.margin, p.Rect.Dy()-d.margin
	for row := range c.Height() {
		digit(right+4, d.margin+row*(d.height+1)+2)
		digit(right+10, d.margin+row*(d.height+1)+2)
	}
	for column := 0; column < c.Width(); column += 5 {
		digit(d.margin+column*(d.width+1)+4, bottom+8)
	}
	for x := d.margin; x < right; x += 5 * (d.width + 1) {
		draw.Draw(p, image.Rect(x, d.margin, x+1, bottom), image.NewUniform(black), image.Point{}, draw.Src)
	}
	for y := d.margin; y < bottom; y += 5 * (d.height + 1) {
		draw.Draw(p, image.Rect(d.margin, y, right, y+1), image.NewUniform(black), image.Point{}, draw.Src)
	}
}
