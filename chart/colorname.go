package chart

import "github.com/lucasb-eyer/go-colorful"

// hueWords name the colors around the circle of hues of CIE L*a*b*, in degrees
// counted from red towards yellow; each row goes up to the next. A word for dark
// or dull shades stands where everyday speech has one of its own.
var hueWords = []struct {
	from   float64
	word   string
	light  string  // word when lighter than 68
	dark   string  // word when darker than darkBelow
	below  float64 // lightness below which it is dark
	strong float64 // chroma from which it is not dull
	dull   string  // word when weaker than that
}{
	{0, "rose", "pink", "dark rose", 40, 0, ""},
	{22, "red", "pink", "dark red", 32, 30, "rose brown"},
	{52, "orange", "orange", "brown", 55, 48, "brown"},
	{78, "yellow", "yellow", "olive", 60, 30, "sand"},
	{112, "green", "green", "dark green", 36, 0, ""},
	{168, "sea green", "sea green", "dark sea green", 36, 0, ""},
	{212, "blue", "blue", "dark blue", 35, 0, ""},
	{308, "purple", "lilac", "dark purple", 32, 0, ""},
	{340, "rose", "pink", "dark rose", 40, 0, ""},
}

// grayWords name colors without a hue, from the given lightness up.
var grayWords = []struct {
	from float64
	word string
}{
	{93, "white"},
	{72, "pale gray"},
	{42, "gray"},
	{16, "dark gray"},
	{0, "black"},
}

const (
	grayChroma = 8  // weaker colors have no hue to name
	paleFrom   = 80 // lightness from which a color is pale
	lightFrom  = 68
)

// Name is a plain word or two, good enough to tell the yarns of an imported chart apart.
// Our own choice of words and limits.
func (c Color) Name() string {
	lab := c.Lab()
	hue, chroma, _ := colorful.LabToHcl(lab.L, lab.A, lab.B)
	if chroma < grayChroma || lab.L < 8 {
		for _, gray := range grayWords {
			if lab.L >= gray.from {
				return gray.word
			}
		}
		return "black" // rounding can take L* below 0
	}
	if lab.L >= 85 && chroma < 22 && hue > 52 && hue < 112 {
		return "cream"
	}
	row := hueWords[0]
	for _, next := range hueWords {
		if hue >= next.from {
			row = next
		}
	}
	switch {
	case lab.L < row.below:
		return row.dark
	case chroma < row.strong && lab.L < paleFrom:
		return row.dull
	case lab.L >= paleFrom && chroma < 60:
		return "pale " + row.light
	case lab.L >= lightFrom:
		return row.light
	}
	return row.word
}
