package paint

import (
	"strandwise/chart"
)

// named are the sixteen colors of a terminal as most show them; the terminal's
// owner may have changed them (common practice, no source).
var named = [16]chart.Color{
	{R: 0x00, G: 0x00, B: 0x00},
	{R: 0xCD, G: 0x00, B: 0x00},
	{R: 0x00, G: 0xCD, B: 0x00},
	{R: 0xCD, G: 0xCD, B: 0x00},
	{R: 0x00, G: 0x00, B: 0xEE},
	{R: 0xCD, G: 0x00, B: 0xCD},
	{R: 0x00, G: 0xCD, B: 0xCD},
	{R: 0xE5, G: 0xE5, B: 0xE5},
	{R: 0x7F, G: 0x7F, B: 0x7F},
	{R: 0xFF, G: 0x00, B: 0x00},
	{R: 0x00, G: 0xFF, B: 0x00},
	{R: 0xFF, G: 0xFF, B: 0x00},
	{R: 0x5C, G: 0x5C, B: 0xFF},
	{R: 0xFF, G: 0x00, B: 0xFF},
	{R: 0x00, G: 0xFF, B: 0xFF},
	{R: 0xFF, G: 0xFF, B: 0xFF},
}

// The fixed part of the 256 colors: from cubeStart on a cube of six levels of
// red, green and blue, from grayStart on a ramp of grays.
const (
	cubeStart = 16
	grayStart = 232
	graySteps = 24
)

var cubeLevels = [6]uint8{0, 95, 135, 175, 215, 255}

// entry is one color of a palette under its number in the terminal.
type entry struct {
	number int
	color  chart.Color
	lab    chart.Lab
}

func newEntry(number int, c chart.Color) entry { return entry{number, c, c.Lab()} }

// entries lists the palette of a depth by number. The sixteen named colors are
// left out of the larger palette, since nobody knows how they look.
func entries(d Depth) []entry {
	var list []entry
	if d == Sixteen {
		for i, c := range named {
			list = append(list, newEntry(i, c))
		}
		return list
	}
	for i := range grayStart - cubeStart {
		c := chart.Color{R: cubeLevels[i/36], G: cubeLevels[i/6%6], B: cubeLevels[i%6]}
		list = append(list, newEntry(cubeStart+i, c))
	}
	for i := range graySteps {
		level := uint8(8 + 10*i)
		list = append(list, newEntry(grayStart+i, chart.Color{R: level, G: level, B: level}))
	}
	return list
}

// nearest is the entry with the least CIEDE2000 difference from c, the lower
// number of two that are level. It takes time linear in the palette.
func nearest(c chart.Color, palette []entry) entry {
	best, least := palette[0], chart.DeltaE(c.Lab(), palette[0].lab)
	for _, e := range palette[1:] {
		if d := chart.DeltaE(c.Lab(), e.lab); d < least {
			best, least = e, d
		}
	}
	return best
}
