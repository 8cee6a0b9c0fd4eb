package document

import (
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"strandwise/chart"
)

// Counted joins a count and a noun: "1 row", "2 rows", "3 stitches"; none is "no rows".
func Counted(n int, noun string) string {
	if n == 0 {
		return "no " + chart.Plural(noun, n)
	}
	return chart.Counted(n, noun)
}

// Length is a length given in mm as a knitter reads it: in cm or inches to a tenth.
func Length(mm float64, inches bool) string {
	if inches {
		return fmt.Sprintf("%.1f in", mm/25.4)
	}
	return fmt.Sprintf("%.1f cm", mm/10)
}

// Spent is a time of knitting in hours and minutes, rounded to the minute: "1 h 5 min".
func Spent(d time.Duration) string {
	minutes := int(d.Round(time.Minute) / time.Minute)
	switch {
	case minutes < 1:
		return "under 1 min"
	case minutes < 60:
		return fmt.Sprintf("%d min", minutes)
	case minutes%60 == 0:
		return fmt.Sprintf("%d h", minutes/60)
	}
	return fmt.Sprintf("%d h %d min", minutes/60, minutes%60)
}

// DayTime is when something was logged, as the clock stood where it was.
func DayTime(t time.Time) string { return t.Format("2006-01-02 15:04") }

// Stretch is neighboring rows of which the same is told.
type Stretch struct {
	From, To int // both in, from 1
	Text     string
}

// Stretches joins neighboring rows with the same text, from 1, but for an empty one.
func Stretches(rows int, text func(row int) string) []Stretch {
	var all []Stretch
	for row := 1; row <= rows; row++ {
		t := text(row)
		if last := len(all) - 1; last >= 0 && all[last].To == row-1 && all[last].Text == t {
			all[last].To = row
		} else if t != "" {
			all = append(all, Stretch{row, row, t})
		}
	}
	return all
}

// Rows names the rows of the stretch: "12" or "12 to 15".
func (s Stretch) Rows() string {
	if s.From == s.To {
		return fmt.Sprint(s.From)
	}
	return fmt.Sprintf("%d to %d", s.From, s.To)
}

// Sentence gives a text its capital and its stop. The text must not begin with a name.
func Sentence(text string) string {
	if text == "" {
		return ""
	}
	return stopped(Capital(text))
}

// Capital is a text with its first letter as a capital.
func Capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

func stopped(text string) string {
	if !strings.ContainsAny(text[len(text)-1:], ".!?:") {
		text += "."
	}
	return text
}

// Tenths writes a number with a decimal only where it has one.
func Tenths(x float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", x), ".0") }
