package session

import (
	"math"
	"slices"

	"strandwise/floats"
)

// maxCount bounds a number of stitches or rows of a swatch's sums.
const maxCount = 100_000

// WidthOf is the finished width of a number of stitches, in mm.
func WidthOf(g floats.Gauge, stitches int) float64 { return float64(stitches) * g.StitchWidth() }

// StitchesFor is the stitches nearest to a width in mm, at least one; of two equally near the larger.
func StitchesFor(g floats.Gauge, width float64) int {
	return max(1, int(math.Floor(width/g.StitchWidth()+0.5)))
}

// FitRepeat gives the two numbers of stitches in whole repeats around a width in mm: the largest
// that is not wider, and the next; and the nearer of them, of two equally near the larger. Below is
// 0, and never nearer, where even one repeat is wider.
func FitRepeat(g floats.Gauge, width float64, repeat int) (below, above, nearer int) {
	below = int(math.Floor(width/g.StitchWidth()/float64(repeat)+1e-9)) * repeat
	above = below + repeat
	if below > 0 && width-WidthOf(g, below) < WidthOf(g, above)-width {
		return below, above, below
	}
	return below, above, above
}

// CheckCount holds a number of stitches or rows to 1 to 100,000; the error is a *FieldError.
func CheckCount(what string, n int) error { return checkBetween(what, n, 1, maxCount) }

// YarnCategory is one weight of yarn in the Standard Yarn Weight System of the Craft Yarn Council. Its
// gauges are for stockinette over 4 in; stranded knitting runs tighter.
type YarnCategory struct {
	Number     int     `json:"number"`
	Name       string  `json:"name"`
	From       int     `json:"-"` // stitches over 4 in, both in
	To         int     `json:"-"`
	NeedleFrom float64 `json:"needle_from"` // mm, both in
	NeedleTo   float64 `json:"needle_to"`   // 0 is no upper end
}

// YarnCategories lists the categories, the finest first. The stitches are those of
// the Craft Yarn Council's table; the needles, of the same table, are from memory.
var YarnCategories = []YarnCategory{
	{0, "Lace", 33, 40, 1.5, 2.25},
	{1, "Super Fine", 27, 32, 2.25, 3.25},
	{2, "Fine", 23, 26, 3.25, 3.75},
	{3, "Light", 21, 24, 3.75, 4.5},
	{4, "Medium", 16, 20, 4.5, 5.5},
	{5, "Bulky", 12, 15, 5.5, 8},
	{6, "Super Bulky", 7, 11, 8, 12.75},
	{7, "Jumbo", 0, 6, 12.75, 0},
}

// CategoriesOf lists the categories a gauge falls in, the finest first: whole
// stitches over 4 in, halves up. None when it is finer than the table.
func CategoriesOf(g floats.Gauge) []YarnCategory {
	stitches := int(math.Floor(StitchesIn4(g) + 0.5))
	return slices.DeleteFunc(slices.Clone(YarnCategories), func(c YarnCategory) bool { return stitches < c.From || c.To < stitches })
}

// StitchesIn4 is the stitch gauge over 4 in, whatever it was measured over.
func StitchesIn4(g floats.Gauge) float64 { return 101.6 / g.StitchWidth() }

// needleNames are the sizes in mm by their US and UK names, "" where there is none (common practice).
var needleNames = map[float64][2]string{
	1.5:   {"000", ""},
	1.75:  {"00", ""},
	2:     {"0", "14"},
	2.25:  {"1", "13"},
	2.75:  {"2", "12"},
	3:     {"", "11"},
	3.25:  {"3", "10"},
	3.5:   {"4", ""},
	3.75:  {"5", "9"},
	4:     {"6", "8"},
	4.5:   {"7", "7"},
	5:     {"8", "6"},
	5.5:   {"9", "5"},
	6:     {"10", "4"},
	6.5:   {"10.5", "3"},
	7:     {"", "2"},
	7.5:   {"", "1"},
	8:     {"11", "0"},
	9:     {"13", "00"},
	10:    {"15", "000"},
	12.75: {"17", ""},
	15:    {"19", ""},
	19:    {"35", ""},
	25:    {"50", ""},
}

// NeedleNames gives what a needle of a size in mm is called in the US and the UK, empty for no such size.
func NeedleNames(mm float64) (us, uk string) { return needleNames[mm][0], needleNames[mm][1] }
