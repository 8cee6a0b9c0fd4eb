package session

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strconv"
)

// Milli is an amount in thousandths of its unit, grams or meters, kept whole so that sums are exact.
type Milli int

// String is the amount in its unit, without needless zeros: 18500 is 18.5.
func (m Milli) String() string { return strconv.FormatFloat(m.Float(), 'f', -1, 64) }

// Float is the amount in its unit.
func (m Milli) Float() float64 { return float64(m) / 1000 }

var milliForm = regexp.MustCompile(`^\d+(\.\d{1,3})?$`)

// ParseMilli reads digits with at most three decimals, above 0 and up to two million; else a *FieldError.
func ParseMilli(text string) (Milli, error) {
	amount, err := strconv.ParseFloat(text, 64)
	if n := math.Round(amount * 1000); milliForm.MatchString(text) && err == nil && n >= 1 && n <= maxInt {
		return Milli(n), nil
	}
	return 0, &FieldError{"amount", fmt.Sprintf("%q", text), "a number above 0 with at most three decimals, such as 18.5"}
}

func checkAmounts(grams, meters Milli) error {
	if grams == 0 && meters == 0 {
		return &FieldError{"amount", "none", "grams or meters"}
	}
	return cmp.Or(checkRange("grams", int(grams), 0), checkRange("meters", int(meters), 0))
}

// amounts is "50 g, 175 m", leaving out what is 0.
func amounts(grams, meters Milli) string {
	switch {
	case meters == 0:
		return grams.String() + " g"
	case grams == 0:
		return meters.String() + " m"
	}
	return fmt.Sprintf("%s g, %s m", grams, meters)
}
