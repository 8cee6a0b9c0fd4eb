package chart

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/lucasb-eyer/go-colorful"
)

// Color is a yarn color in sRGB, 8 bits a channel.
type Color struct{ R, G, B uint8 }

// String is the color as it stands in a chart file: #RRGGBB in capitals.
func (c Color) String() string { return fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B) }

// ParseColor reads #RRGGBB in capitals or small letters. The error says what to write.
func ParseColor(text string) (Color, error) {
	digits, marked := strings.CutPrefix(text, "#")
	n, err := strconv.ParseUint(digits, 16, 24)
	if !marked || len(digits) != 6 || err != nil {
		return Color{}, fmt.Errorf("%q is not a color: %s", text, colorHint(text))
	}
	return Color{uint8(n >> 16), uint8(n >> 8), uint8(n)}, nil
}

func colorHint(text string) string {
	digits := strings.ToUpper(strings.TrimPrefix(text, "#"))
	if len(digits) == 3 {
		digits = strings.Repeat(digits[:1], 2) + strings.Repeat(digits[1:2], 2) + strings.Repeat(digits[2:], 2)
	}
	if _, err := strconv.ParseUint(digits, 16, 24); err == nil && len(digits) == 6 {
		return "write #" + digits
	}
	return "write # and six digits from 0-9 and A-F, for example #1F4E79"
}

// Lab is a color in CIE L*a*b* under D65: L from 0 (black) to 100 (white), A
// from green to red, B from blue to yellow.
type Lab struct{ L, A, B float64 }

// whiteD65 is the white point D65 in XYZ, 2 degree observer.
var whiteD65 = [3]float64{0.95047, 1, 1.08883}

// fromRGB takes linear sRGB to XYZ: the primaries of IEC 61966-2-1 at whiteD65, so that
// grays have no hue. Rows are X, Y, Z; their sums are the white point.
var fromRGB = [3][3]float64{
	{0.4124564, 0.3575761, 0.1804375},
	{0.2126729, 0.7151522, 0.0721750},
	{0.0193339, 0.1191920, 0.9503041},
}

func (c Color) shares() colorful.Color {
	return colorful.Color{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}
}

// Lab returns the color in CIE L*a*b*, white point D65, 2 degree observer.
func (c Color) Lab() Lab {
	r, g, b := c.shares().LinearRgb()
	var xyz [3]float64
	for i, row := range fromRGB {
		xyz[i] = row[0]*r + row[1]*g + row[2]*b
	}
	l, aa, bb := colorful.XyzToLabWhiteRef(xyz[0], xyz[1], xyz[2], whiteD65)
	return Lab{100 * l, 100 * aa, 100 * bb}
}

// Luminance is the relative luminance of WCAG 2.2, from 0 (black) to 1 (white).
func (c Color) Luminance() float64 {
	r, g, b := c.shares().LinearRgb()
	return 0.2126*r + 0.7152*g + 0.0722*b
}

// ContrastRatio is the contrast ratio of WCAG 2.2, from 1 to 21, in either order. It was
// made for text on screens; for yarns it is a rough scale.
func ContrastRatio(a, b Color) float64 {
	la, lb := a.Luminance(), b.Luminance()
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// Ink is black or white, whichever is read better on the color, at a contrast of at least 4.5.
func (c Color) Ink() Color {
	white := Color{R: 255, G: 255, B: 255}
	if ContrastRatio(c, white) > ContrastRatio(c, Color{}) {
		return white
	}
	return Color{}
}

// Lightness is CIE L* (ISO 11664-4) of the luminance, from 0 to 100: what is left
// of the color in a gray photograph.
func (c Color) Lightness() float64 {
	l, _, _ := colorful.XyzToLab(0, c.Luminance(), 0)
	return 100 * l
}
