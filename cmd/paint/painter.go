package paint

import (
	"github.com/fatih/color"

	"strandwise/chart"
)

// Painter colors runs of text for one stream. Colors do not nest: color a
// whole run at once, and measure it before. A Painter is not for several
// goroutines at a time.
type Painter struct {
	depth   Depth
	palette []entry // empty until a color is needed
	chosen  map[chart.Color]entry
}

// New makes the painter of a stream with the given depth.
func New(d Depth) *Painter {
	return &Painter{depth: d, chosen: map[chart.Color]entry{}}
}

// Shown is the color in which a yarn appears: the nearest of the palette by
// CIEDE2000, with full depth the yarn's own. Without colors it is the yarn's own
// too, but nothing shows it.
func (p *Painter) Shown(c chart.Color) chart.Color {
	if p.depth == None || p.depth == True {
		return c
	}
	return p.choose(c).color
}

// Yarn sets text on the yarn's color, in black or white, whichever contrasts more
// with the color as shown (black when level).
func (p *Painter) Yarn(text string, c chart.Color) string {
	if p.depth == None {
		return text
	}
	return p.styled(text, append(p.background(c), p.foreground(c)...)...)
}

// YarnApart is Yarn for one that looks like another: bold and underlined, so that
// something beside the color tells it.
func (p *Painter) YarnApart(text string, c chart.Color) string {
	if p.depth == None {
		return text
	}
	codes := append(p.background(c), p.foreground(c)...)
	return p.styled(text, append(codes, color.Bold, color.Underline)...)
}

// Quiet makes text step back.
func (p *Painter) Quiet(text string) string { return p.styled(text, color.Faint) }

// Strong makes text stand out.
func (p *Painter) Strong(text string) string { return p.styled(text, color.Bold) }

// Warn marks text as a warning. The text must say so too: color is never the
// only sign.
func (p *Painter) Warn(text string) string { return p.styled(text, color.Bold, color.FgRed) }

// Collide lists the pairs of different colors that look alike on this stream
// because the palette has one entry for both, as indexes, the lower first, in
// ascending order. Colors that are equal to begin with are no collision.
func (p *Painter) Collide(colors []chart.Color) [][2]int {
	var pairs [][2]int
	if p.depth == None || p.depth == True {
		return pairs
	}
	for i, a := range colors {
		for j := i + 1; j < len(colors); j++ {
			if b := colors[j]; a != b && p.Shown(a) == p.Shown(b) {
				pairs = append(pairs, [2]int{i, j})
			}
		}
	}
	return pairs
}

func (p *Painter) choose(c chart.Color) entry {
	if e, ok := p.chosen[c]; ok {
		return e
	}
	if p.palette == nil {
		p.palette = entries(p.depth)
	}
	e := nearest(c, p.palette)
	p.chosen[c] = e
	return e
}

// background is the code that sets the background: 40 to 47 and 100 to 107 name
// sixteen colors, 48;5 picks of 256, 48;2 gives red, green and blue (ECMA-48 and
// common practice).
func (p *Painter) background(c chart.Color) []color.Attribute {
	switch p.depth {
	case Sixteen:
		n := p.choose(c).number
		if n < 8 {
			return []color.Attribute{color.BgBlack + color.Attribute(n)}
		}
		return []color.Attribute{color.BgHiBlack + color.Attribute(n-8)}
	case Palette:
		return []color.Attribute{48, 5, color.Attribute(p.choose(c).number)}
	}
	return []color.Attribute{48, 2, color.Attribute(c.R), color.Attribute(c.G), color.Attribute(c.B)}
}

func (p *Painter) foreground(c chart.Color) []color.Attribute {
	shown, white := p.Shown(c), chart.Color{R: 255, G: 255, B: 255}
	light := chart.ContrastRatio(shown, white) > chart.ContrastRatio(shown, chart.Color{})
	switch {
	case p.depth == Sixteen && light:
		return []color.Attribute{color.FgHiWhite}
	case p.depth == Sixteen:
		return []color.Attribute{color.FgBlack}
	case p.depth == Palette && light:
		return []color.Attribute{38, 5, 231}
	case p.depth == Palette:
		return []color.Attribute{38, 5, 16}
	case light:
		return []color.Attribute{38, 2, 255, 255, 255}
	}
	return []color.Attribute{38, 2, 0, 0, 0}
}

func (p *Painter) styled(text string, codes ...color.Attribute) string {
	if p.depth == None || text == "" {
		return text
	}
	style := color.New(codes...)
	style.EnableColor() // the library's own guess looks at stdout alone
	return style.Sprint(text)
}
