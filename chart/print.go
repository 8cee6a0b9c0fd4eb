package chart

import (
	"errors"
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

// Same reports whether two charts are the same, with all in the same order.
func (c *Chart) Same(other *Chart) bool {
	return slices.Equal(c.Comments, other.Comments) &&
		c.Title == other.Title &&
		slices.Equal(c.Yarns, other.Yarns) &&
		slices.Equal(c.Stitches, other.Stitches) &&
		c.Empty == other.Empty &&
		slices.Equal(c.Background, other.Background) &&
		slices.EqualFunc(c.Rows, other.Rows, slices.Equal[[]rune])
}

// Validate checks a chart built by code: its text must parse to an equal chart. The error is
// the *Faults of that text, or says what the text cannot hold. It takes linear time.
func (c *Chart) Validate() error {
	for _, s := range c.Stitches {
		if int(s.Technique) >= len(techniques) {
			return fmt.Errorf("the stitch %c has technique number %d, which does not exist", s.Symbol, s.Technique)
		}
	}
	read, err := Parse("", []byte(c.String()))
	if err != nil {
		return err
	}
	if !c.Same(read) {
		return errors.New("the chart cannot be written as text: its title, a comment or a yarn name has blanks at an end, double blanks or a line break, or a row has a blank cell")
	}
	return nil
}
