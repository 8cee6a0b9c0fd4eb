package picture

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"
	"testing"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/f64"
	"golang.org/x/image/math/fixed"

	"strandwise/chart"
)

// What befalls a chart between the designer's pen and the file: each is a function from a
// picture to a picture, so that a way of damage is a list of them.
type damage func(p *image.NRGBA) *image.NRGBA

func damaged(p *image.NRGBA, by ...damage) *image.NRGBA {
	for _, d := range by {
		p = d(p)
	}
	return p
}

// eachPixel makes a picture of the same size from a function of the place.
func eachPixel(p *image.NRGBA, at func(x, y int) color.NRGBA) *image.NRGBA {
	out := image.NewNRGBA(p.Rect)
	for y := range p.Rect.Dy() {
		for x := range p.Rect.Dx() {
			out.SetNRGBA(x, y, at(x, y))
		}
	}
	return out
}

func channel(v float64) uint8 { return uint8(math.Round(min(max(v, 0), 255))) }

// blurred is a Gaussian blur, across and then down.
func blurred(sigma float64) damage {
	reach := int(math.Ceil(3 * sigma))
	var kernel []float64
	sum := 0.0
	for i := -reach; i <= reach; i++ {
		w := math.Exp(-float64(i*i) / (2 * sigma * sigma))
		kernel, sum = append(kernel, w), sum+w
	}
	along := func(p *image.NRGBA, dx, dy int) *image.NRGBA {
		return eachPixel(p, func(x, y int) color.NRGBA {
			var r, g, b float64
			for i, w := range kernel {
				at := image.Pt(min(max(x+dx*(i-reach), 0), p.Rect.Dx()-1), min(max(y+dy*(i-reach), 0), p.Rect.Dy()-1))
				c := p.NRGBAAt(at.X, at.Y)
				r, g, b = r+w*float64(c.R), g+w*float64(c.G), b+w*float64(c.B)
			}
			return color.NRGBA{channel(r / sum), channel(g / sum), channel(b / sum), 255}
		})
	}
	return func(p *image.NRGBA) *image.NRGBA { return along(along(p, 1, 0), 0, 1) }
}

// grainy adds noise to every channel, as sensors do.
func grainy(sigma float64) damage {
	return func(p *image.NRGBA) *image.NRGBA {
		random := rand.New(rand.NewPCG(7, 8))
		return eachPixel(p, func(x, y int) color.NRGBA {
			c := p.NRGBAAt(x, y)
			n := func(v uint8) uint8 { return channel(float64(v) + sigma*random.NormFloat64()) }
			return color.NRGBA{n(c.R), n(c.G), n(c.B), 255}
		})
	}
}

// shaded lets the light fall off by a share from one corner to the other.
func shaded(share float64) damage {
	return func(p *image.NRGBA) *image.NRGBA {
		return eachPixel(p, func(x, y int) color.NRGBA {
			c := p.NRGBAAt(x, y)
			light := 1 - share*(0.6*float64(x)/float64(p.Rect.Dx())+0.4*float64(y)/float64(p.Rect.Dy()))
			return color.NRGBA{channel(float64(c.R) * light), channel(float64(c.G) * light), channel(float64(c.B) * light), 255}
		})
	}
}

// vignetted lets the light fall off from the middle, as lenses do.
func vignetted(share float64) damage {
	return func(p *image.NRGBA) *image.NRGBA {
		w, h := float64(p.Rect.Dx()), float64(p.Rect.Dy())
		return eachPixel(p, func(x, y int) color.NRGBA {
			c := p.NRGBAAt(x, y)
			dx, dy := 2*float64(x)/w-1, 2*float64(y)/h-1
			light := 1 - share*(dx*dx+dy*dy)/2
			return color.NRGBA{channel(float64(c.R) * light), channel(float64(c.G) * light), channel(float64(c.B) * light), 255}
		})
	}
}

func scaled(by float64, with xdraw.Interpolator) damage {
	return func(p *image.NRGBA) *image.NRGBA {
		out := image.NewNRGBA(image.Rect(0, 0, int(math.Round(by*float64(p.Rect.Dx()))), int(math.Round(by*float64(p.Rect.Dy())))))
		with.Scale(out, out.Rect, p, p.Rect, draw.Src, nil)
		return out
	}
}

func paper(size image.Rectangle) *image.NRGBA {
	out := image.NewNRGBA(size)
	draw.Draw(out, size, image.White, image.Point{}, draw.Src)
	return out
}

// turnedBy rotates about the middle, on white paper.
func turnedBy(degrees float64) damage {
	return func(p *image.NRGBA) *image.NRGBA {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		w, h := float64(p.Rect.Dx())/2, float64(p.Rect.Dy())/2
		out := paper(p.Rect)
		xdraw.BiLinear.Transform(out, f64.Aff3{cos, -sin, w - cos*w + sin*h, sin, cos, h - sin*w - cos*h}, p, p.Rect, draw.Over, nil)
		return out
	}
}

// tilted is a view at an angle: the far side is shorter by the share. Each pixel is looked up
// through the inverse, a quotient of linear functions.
func tilted(share float64) damage {
	return func(p *image.NRGBA) *image.NRGBA {
		w, h := float64(p.Rect.Dx()), float64(p.Rect.Dy())
		return eachPixel(p, func(x, y int) color.NRGBA {
			dx, dy := float64(x)-w/2, float64(y)-h/2
			depth := 1 - share*dy/h - share/2*dx/w
			return blended(p, w/2+dx/depth, h/2+dy/depth)
		})
	}
}

// blended is the color at a place between pixels; white outside.
func blended(p *image.NRGBA, x, y float64) color.NRGBA {
	x0, y0 := math.Floor(x), math.Floor(y)
	var sum [3]float64
	for _, corner := range [4][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
		w := (1 - math.Abs(x-x0-corner[0])) * (1 - math.Abs(y-y0-corner[1]))
		c := marginColor
		if at := image.Pt(int(x0+corner[0]), int(y0+corner[1])); at.In(p.Rect) {
			c = p.NRGBAAt(at.X, at.Y)
		}
		sum[0], sum[1], sum[2] = sum[0]+w*float64(c.R), sum[1]+w*float64(c.G), sum[2]+w*float64(c.B)
	}
	return color.NRGBA{channel(sum[0]), channel(sum[1]), channel(sum[2]), 255}
}

// onPaper leaves room on all sides, not the same on each.
func onPaper(room int) damage {
	return func(p *image.NRGBA) *image.NRGBA {
		out := paper(image.Rect(0, 0, p.Rect.Dx()+2*room+3, p.Rect.Dy()+2*room+7))
		draw.Draw(out, p.Rect.Add(image.Pt(room, room+5)), p, image.Point{}, draw.Src)
		return out
	}
}

// captioned sets row numbers at the right of a drawing, column numbers below and a title above.
func captioned(d drawing, c *chart.Chart) damage {
	return func(p *image.NRGBA) *image.NRGBA {
		out := paper(image.Rect(0, 0, p.Rect.Dx()+70, p.Rect.Dy()+80))
		draw.Draw(out, p.Rect.Add(image.Pt(20, 40)), p, image.Point{}, draw.Src)
		pen := font.Drawer{Dst: out, Src: image.Black, Face: basicfont.Face7x13}
		write := func(x, y int, text string) {
			pen.Dot = fixed.P(x, y)
			pen.DrawString(text)
		}
		write(30, 24, "A band of lamps, read from below")
		for row := 1; row <= c.Height(); row += 2 {
			write(26+p.Rect.Dx(), 40+(c.Height()-row)*(d.height+d.line)+d.height, itoa(row))
		}
		for column := 1; column <= c.Width(); column += 5 {
			write(20+(c.Width()-column)*(d.width+d.line), 56+p.Rect.Dy(), itoa(column))
		}
		return out
	}
}

func itoa(n int) string { return string([]byte{'0' + byte(n/10), '0' + byte(n%10)}) }

// heavier draws every nth line of a drawing in black, two pixels wide.
func heavier(d drawing, c *chart.Chart, every int) damage {
	return func(p *image.NRGBA) *image.NRGBA {
		for column := 0; column <= c.Width(); column += every {
			x := d.margin + (c.Width()-column)*(d.width+d.line)
			draw.Draw(p, image.Rect(x, d.margin, x+2, p.Rect.Dy()-d.margin), image.NewUniform(black), image.Point{}, draw.Src)
		}
		for row := 0; row <= c.Height(); row += every {
			y := d.margin + (c.Height()-row)*(d.height+d.line)
			draw.Draw(p, image.Rect(d.margin, y, p.Rect.Dx()-d.margin, y+2), image.NewUniform(black), image.Point{}, draw.Src)
		}
		return p
	}
}

// symbolSheet draws a chart as signs in squares: a cross for each pattern stitch, a dot for
// the others of the second yarn.
func symbolSheet(c *chart.Chart) *image.NRGBA {
	const cell = 14
	blank := &chart.Chart{Yarns: []chart.Yarn{{Symbol: '.', Name: "paper", Color: rgb(255, 255, 255)}}}
	for range c.Height() {
		row := make([]rune, c.Width())
		for i := range row {
			row[i] = '.'
		}
		blank.Rows = append(blank.Rows, row)
	}
	p := drawing{width: cell - 1, height: cell - 1, line: 1, lineColor: grayInk, frame: true}.picture(blank)
	for row := 1; row <= c.Height(); row++ {
		for i, got := range c.Cells(row) {
			x, y := 1+(c.Width()-1-i)*cell, 1+(c.Height()-row)*cell
			switch {
			case got.Yarn == 1:
				for k := 3; k < cell-4; k++ {
					for w := range 2 {
						p.SetNRGBA(x+k+w, y+k, black)
						p.SetNRGBA(x+k+w, y+cell-2-k, black)
					}
				}
			case got.Yarn == 0 && c.Width()%2 == 0:
				draw.Draw(p, image.Rect(x+5, y+5, x+8, y+8), image.Black, image.Point{}, draw.Src)
			}
		}
	}
	return p
}

func TestDamagesLeaveWhatTheyDoNotTouch(t *testing.T) {
	p := drawing{width: 6, height: 6}.picture(goodCharts(t)["lamp-room.chart"])
	for name, d := range map[string]damage{"light": shaded(0), "turn": turnedBy(0), "tilt": tilted(0)} {
		got := d(p)
		for i := range p.Pix {
			if i%4 != 3 && p.Pix[i|3] == 255 && math.Abs(float64(p.Pix[i])-float64(got.Pix[i])) > 1 {
				t.Fatal(name)
			}
		}
	}
}
