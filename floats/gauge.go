package floats

import (
	"cmp"
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"
)

// Unit is the unit a length was given in.
type Unit uint8

// The units.
const (
	Centimeter Unit = iota
	Inch
)

// span is the length over which a knitter counts stitches: 10 cm or 4 in. The two are taken as
// the same in matched units (patterns print them so, though 4 in is 10.16 cm).
func (u Unit) span() *big.Rat { return big.NewRat([...]int64{Centimeter: 10, Inch: 4}[u], 1) }

// Gauge is the stitches and rows of a swatch, kept exactly.
type Gauge struct {
	text     string
	unit     Unit
	stitches *big.Rat // per span
	rows     *big.Rat // per span, nil when not given
}

// FormatError tells that a value on the command line could not be read.
type FormatError struct {
	What  string // "gauge", "--limit"
	Value string
	Want  string // what would be right, with an example
}

func (e *FormatError) Error() string {
	return fmt.Sprintf("%s %q cannot be read", e.What, e.Value)
}

var gaugeForm = regexp.MustCompile(`^(\d+(?:\.\d+)?)(?:x(\d+(?:\.\d+)?))?/(?:(\d+(?:\.\d+)?)(?:x(\d+(?:\.\d+)?))?)?(cm|in)$`)

// mixedForm is a whole number and a fraction as rulers have them: 20 1/2, 20½ or ½.
var mixedForm = regexp.MustCompile(`(?:(\d+)\s+(\d+)\s*/\s*(\d+))|(\d*)\s*([½¼¾⅛⅜⅝⅞])`)

// rulerFractions are the signs among them, in eighths.
var rulerFractions = map[string]int{"⅛": 1, "¼": 2, "⅜": 3, "½": 4, "⅝": 5, "¾": 6, "⅞": 7}

// mixed writes a mixed number with decimals. What is no fraction below 1 stays.
func mixed(text string) string {
	m := mixedForm.FindStringSubmatch(text)
	sum, below := rational(cmp.Or(m[1], m[4], "0")), big.NewRat(int64(rulerFractions[m[5]]), 8)
	if m[5] == "" {
		part, whole := rational(m[2]), rational(m[3])
		if part.Cmp(whole) >= 0 {
			return text
		}
		below.Quo(part, whole)
	}
	return strings.TrimSuffix(strings.TrimRight(sum.Add(sum, below).FloatString(4), "0"), ".")
}

// digitsApart are two numbers with nothing but space between: no measure has them.
var digitsApart = regexp.MustCompile(`(\d)\s+(\d)`)

// Typed is a measure without what differs only in writing: spaces, capitals, a decimal comma,
// mixed numbers, the sign of multiplication, names of the units.
func Typed(text string) string {
	text = mixedForm.ReplaceAllStringFunc(strings.ToLower(text), mixed)
	text = digitsApart.ReplaceAllString(text, "$1 and $2")
	text = strings.Join(strings.Fields(text), "")
	return strings.NewReplacer(",", ".", "×", "x", "*", "x", "inches", "in", "inch", "in", "\"", "in", "″", "in", "”", "in", "''", "in",
		"centimeters", "cm", "centimetres", "cm", "per", "/", "stitches", "", "sts", "", "rows", "", "rounds", "").Replace(text)
}

// gaugeLacks says which part of a gauge is not there; the first form (a regular expression) that
// fits counts.
var gaugeLacks = []struct{ form, says string }{
	{`^[\d.]+x[\d.]+/?$`, "stitches and rows are there, the length is not: 24x26/10cm"},
	{`^[\d.]+/?$`, "stitches are there, the length is not: 24/10cm"},
	{`^[\d.]+(x[\d.]+)?/[\d.]+(x[\d.]+)?$`, "the unit of the length is missing: cm or in, like 24x26/10cm"},
	{`^/?[\d.]+(x[\d.]+)?(cm|in)$`, "the length is there, the stitches are not: 24x26/10cm"},
	{`^([\d.]+x|x[\d.]+)/`, "one of stitches and rows is missing: 24x26/10cm, or 24/10cm without rows"},
	{`^[\d.]+(x[\d.]+)?/.*[^\d.x]$`, "the unit is cm or in: 24x26/10cm or 20x22/4in"},
}

const gaugeWant = "write stitches x rows over a length, like 22x24/10cm, 20/4in or 23x25/9.5x10cm"

// ParseGauge reads a gauge: stitches, optional rows, and the length they were
// counted over: "22x24/10cm", "20/4in", or a measured "23x25/9.5x10cm" (23 stitches
// in 9.5 cm, 25 rows in 10 cm), "5.5/in" for one inch. It returns a *FormatError for anything else, for a
// count of zero and for more than 1000 stitches in 10 cm.
func ParseGauge(text string) (Gauge, error) {
	bad := &FormatError{What: "gauge", Value: text, Want: gaugeWant}
	typed := Typed(text)
	m := gaugeForm.FindStringSubmatch(typed)
	if m == nil {
		for _, l := range slices.Backward(gaugeLacks) {
			if regexp.MustCompile(l.form).MatchString(typed) {
				bad.Want = l.says
			}
		}
		return Gauge{}, bad
	}
	unit := Centimeter
	if m[5] == "in" {
		unit = Inch
	}
	across, up := rational(cmp.Or(m[3], "1")), rational(cmp.Or(m[4], m[3], "1"))
	if across.Sign() == 0 || up.Sign() == 0 {
		return Gauge{}, bad
	}
	g := Gauge{text: typed, unit: unit, stitches: perSpan(rational(m[1]), across, unit)}
	if m[2] != "" {
		g.rows = perSpan(rational(m[2]), up, unit)
	}
	if !plausible(g.stitches) || g.rows != nil && !plausible(g.rows) {
		bad.Want = "more than none and at most 1000 in 10 cm or 4 in; " + gaugeWant
		return Gauge{}, bad
	}
	return g, nil
}

func plausible(perSpan *big.Rat) bool {
	return perSpan.Sign() > 0 && perSpan.Cmp(big.NewRat(1000, 1)) <= 0
}

func rational(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("floats: the gauge form let through a number that is none: " + s)
	}
	return r
}

func perSpan(count, length *big.Rat, u Unit) *big.Rat {
	r := new(big.Rat).Quo(count, length)
	return r.Mul(r, u.span())
}

// String is the gauge as it was given, but for what Typed leaves out.
func (g Gauge) String() string { return g.text }

// Unit is the unit the gauge was given in.
func (g Gauge) Unit() Unit { return g.unit }

// IsZero reports whether no gauge was given.
func (g Gauge) IsZero() bool { return g.stitches == nil }

// StitchWidth is the width of one stitch in mm.
func (g Gauge) StitchWidth() float64 { return g.size(g.stitches) }

// RowHeight is the height of one row in mm, or 0 when the gauge has no rows.
func (g Gauge) RowHeight() float64 { return g.size(g.rows) }

func (g Gauge) size(perSpan *big.Rat) float64 {
	if perSpan == nil {
		return 0
	}
	v, _ := perSpan.Float64()
	return [...]float64{Centimeter: 100, Inch: 101.6}[g.unit] / v
}
