package floats

import (
	"math/big"
	"regexp"
	"strconv"
)

// Item is what is being knitted, as far as the length of a loose strand matters.
type Item struct {
	Word string
	Span int  // hundredths of 10 cm (or of 4 in) a yarn may pass uncaught: mm in matched units
	Wary bool // strands inside have hurt fingers and toes: show the cautions
}

// Items lists the kinds of item. The lengths are choices of this program, not a
// standard: about an inch in general, less where a finger or toe may be caught.
var Items = []Item{
	{Word: "general", Span: 25},
	{Word: "sleeve", Span: 20},
	{Word: "hands-feet", Span: 15, Wary: true},
	{Word: "baby", Span: 15, Wary: true},
}

// DefaultLimit is the limit in stitches where neither a gauge nor a limit is given:
// about an inch at 20 stitches in 4 in (common practice, no source).
const DefaultLimit = 5

const (
	maxLimit   = 9999 // stitches that ParseLimit accepts
	leastLimit = 3    // follows from a gauge: nobody catches behind two stitches (common practice, no source)
)

// Limit is the longest gap for an item at this gauge, in whole stitches rounded down and at least 3: for
// a general item the knitters' rule of about an inch, floor(stitches per 4 in or 10 cm / 4).
func (g Gauge) Limit(it Item) int {
	return max(leastLimit, g.stitchesIn(big.NewRat(int64(it.Span), 100)))
}

// stitchesIn rounds down the stitches in a length given in spans.
func (g Gauge) stitchesIn(spans *big.Rat) int {
	n := new(big.Rat).Mul(g.stitches, spans)
	whole := new(big.Int).Quo(n.Num(), n.Denom())
	if whole.Cmp(big.NewInt(maxLimit)) > 0 {
		return maxLimit
	}
	return max(1, int(whole.Int64()))
}

var lengthForm = regexp.MustCompile(`^(\d+\.?\d*|\.\d+|\d+/[1-9]\d*)(cm|mm|in)$`)

// ParseLength reads a length such as 52cm, 520mm, 20.5in or 3/4", in mm. Anything else, 0
// and more than 100 m is a *FormatError.
func ParseLength(text string) (float64, error) {
	if m := lengthForm.FindStringSubmatch(Typed(text)); m != nil {
		if mm, _ := millimeters(m[1], m[2]).Float64(); mm > 0 && mm <= 100_000 {
			return mm, nil
		}
	}
	return 0, &FormatError{What: "length", Value: text, Want: "write a number and its unit, like 52cm, 520mm or 20.5in"}
}

func millimeters(length, unit string) *big.Rat {
	mm := map[string]string{"cm": "10", "mm": "1", "in": "25.4"}
	return new(big.Rat).Mul(rational(length), rational(mm[unit]))
}

const limitWant = "write stitches, like 5, or a length, like 2cm or 3/4in"

// ParseLimit reads a limit given in stitches ("5") or as a length ("2cm", "15mm", "3/4in"), which
// needs a gauge. Lengths are exact: 1 in is 2.54 cm. A length shorter than a stitch counts as one
// stitch. It returns a *FormatError for anything else and for 0.
func ParseLimit(text string, g Gauge) (int, error) {
	bad := &FormatError{What: "--limit", Value: text, Want: limitWant}
	text = Typed(text)
	if n, err := strconv.Atoi(text); err == nil {
		if n < 1 || n > maxLimit {
			bad.Want = "a limit is 1 to 9999 stitches; " + limitWant
			return 0, bad
		}
		return n, nil
	}
	m := lengthForm.FindStringSubmatch(text)
	if m == nil || rational(m[1]).Sign() == 0 {
		return 0, bad
	}
	if g.IsZero() {
		bad.Want = "a length needs the gauge beside it, like --gauge 22x24/10cm; or give stitches, like 5"
		return 0, bad
	}
	span := rational([...]string{Centimeter: "100", Inch: "101.6"}[g.unit]) // mm
	return g.stitchesIn(span.Quo(millimeters(m[1], m[2]), span)), nil
}
