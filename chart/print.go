package chart

import (
	"fmt"
	"slices"
	"strings"
)

// String is the chart as a chart file, comments first: the inverse of Parse for a valid chart.
func (c *Chart) String() string {
	var b strings.Builder
	for _, comment := range c.Comments {
		b.WriteString("#" + comment + "\n")
	}
	if c.Title != "" {
		b.WriteString("title: " + c.Title + "\n")
	}
	for _, y := range c.Yarns {
		fmt.Fprintf(&b, "yarn: %c %s %s\n", y.Symbol, y.Name, y.Color)
	}
	for _, s := range c.Stitches {
		fmt.Fprintf(&b, "stitch: %c %c %s\n", s.Symbol, s.Yarn, s.Technique)
	}
	if c.Empty != 0 {
		fmt.Fprintf(&b, "empty: %c\n", c.Empty)
	}
	if len(c.Background) > 0 {
		b.WriteString("background: " + spoken(c.Background) + "\n")
	}
	b.WriteString("rows:\n")
	for _, row := range slices.Backward(c.Rows) {
		for _, symbol := range slices.Backward(row) {
			b.WriteRune(symbol)
		}
		b.WriteByte('\n')
	}
	return b.String()
}
