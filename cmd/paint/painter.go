package paint

import (
	"cmp"
	"slices"

	"github.com/fatih/color"

	"strandwise/chart"
)

// Painter colors runs of text for one stream. Colors do not nest: color a
// whole run at once, and measure it before. A Painter is not for several
// goroutines at a time.
type Painter struct {
	depth  Depth
	chosen map[chart.Color]entry // those looked up in the palette
}

// New makes the painter of a stream with the given depth.
func New(d Depth) *Painter {
	return &Painter{depth: d, chosen: map[chart.Color]entry{}}
}

// Colors reports whether there are any.
func (p *Painter) Colors() bool { return p.depth != None }

// Shown is the color in which a yarn appears: the nearest of the palette by CIEDE2000, the
// yarn's own where there is none.
func (p *Painter) Shown(c chart.Color) chart.Color { return p.choose(c).color }

// Yarn sets text on the yarn's color in black or white, whichever contrasts more as shown.
func (p *Painter) Yarn(text string, c chart.Color) string { return p.styled(text, p.codes(c)...) }

// YarnApart is Yarn for one that looks like another: bold and underlined, so that
// something beside the color tells it.
func (p *Painter) YarnApart(text string, c chart.Color) string {
	return p.styled(text, append(p.codes(c), color.Bold, color.Underline)...)
}

// Quiet makes text step back.
func (p *Painter) Quiet(text string) string { return p.styled(text, color.Faint) }

// Strong makes text stand out.
func (p *Painter) Strong(text string) string { return p.styled(text, color.Bold) }

// Warn marks a warning. The text must say so too: color is never the only sign.
func (p *Painter) Warn(text string) string { return p.styled(text, color.Bold, color.FgRed) }

// Collide lists the pairs of yarns of different colors that the palette shows alike, as
// indexes, the lower first, in ascending order.
func (p *Painter) Collide(yarns []chart.Yarn) [][2]int {
	var pairs [][2]int
	for i := range yarns {
		for j := i + 1; j < len(yarns); j++ {
			if a, b := yarns[i].Color, yarns[j].Color; a != b && p.Shown(a) == p.Shown(b) {
				pairs = append(pairs, [2]int{i, j})
			}
		}
	}
	return pairs
}

func (p *Painter) choose(c chart.Color) entry {
	if p.depth == None || p.depth == True {
		return entry{c, []color.Attribute{48, 2, color.Attribute(c.R), color.Attribute(c.G), color.Attribute(c.B)}}
	}
	e, known := p.chosen[c]
	if !known {
		e = nearest(c, entries(p.depth))
		p.chosen[c] = e
	}
	return e
}

// codes set the background and the letters on it: a code for letters is ten less than that for a
// background of the same color (ECMA-48 and common practice).
func (p *Painter) codes(c chart.Color) []color.Attribute {
	on := p.choose(c)
	codes := slices.Concat(on.background, p.choose(on.color.Ink()).background)
	codes[len(on.background)] -= 10
	return codes
}

func (p *Painter) styled(text string, codes ...color.Attribute) string {
	if p.depth == None || text == "" {
		return text
	}
	style := color.New(codes...)
	style.EnableColor() // the library's own guess looks at stdout alone
	return style.Sprint(text)
}

// entry is a color and what sets it as a background: 40 to 47 and 100 to 107 name sixteen colors,
// 48;5 picks of 256, 48;2 gives red, green and blue (ECMA-48 and common practice).
type entry struct {
	color      chart.Color
	background []color.Attribute
}

// named are the sixteen colors of a terminal as most show them; the terminal's
// owner may have changed them (common practice, no source).
var named = [16]uint32{
	0x000000, 0xCD0000, 0x00CD00, 0xCDCD00, 0x0000EE, 0xCD00CD, 0x00CDCD, 0xE5E5E5,
	0x7F7F7F, 0xFF0000, 0x00FF00, 0xFFFF00, 0x5C5CFF, 0xFF00FF, 0x00FFFF, 0xFFFFFF,
}

// cubeLevels are the levels of red, green and blue of the cube that the 256 colors have from number 16
// on; a ramp of 24 grays follows it.
var cubeLevels = [6]uint8{0, 95, 135, 175, 215, 255}

// entries lists the palette of a depth by number. The sixteen named colors are
// left out of the larger palette, since nobody knows how they look.
func entries(d Depth) []entry {
	var list []entry
	if d == Sixteen {
		for i, c := range named {
			first := []color.Attribute{color.BgBlack, color.BgHiBlack}[i/8]
			rgb := chart.Color{R: uint8(c >> 16), G: uint8(c >> 8), B: uint8(c)}
			list = append(list, entry{rgb, []color.Attribute{first + color.Attribute(i%8)}})
		}
		return list
	}
	add := func(r, g, b uint8) {
		number := color.Attribute(16 + len(list))
		list = append(list, entry{chart.Color{R: r, G: g, B: b}, []color.Attribute{48, 5, number}})
	}
	for i := range 6 * 6 * 6 {
		add(cubeLevels[i/36], cubeLevels[i/6%6], cubeLevels[i%6])
	}
	for i := range uint8(24) {
		level := 8 + 10*i
		add(level, level, level)
	}
	return list
}

// nearest is the entry least different from c, the lower number of two that are level.
func nearest(c chart.Color, palette []entry) entry {
	lab := c.Lab()
	return slices.MinFunc(palette, func(a, b entry) int {
		return cmp.Compare(chart.DeltaE(lab, a.color.Lab()), chart.DeltaE(lab, b.color.Lab()))
	})
}
