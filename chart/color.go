package chart

import (
	"fmt"
	"strconv"
	"strings"
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
