package cmd

import (
	"strings"
	"unicode/utf8"

	"strandwise/chart"
)

// yarnsChanged maps and renames yarns, in the order given.
func (o *turnOptions) yarnsChanged(c *chart.Chart) (*chart.Chart, error) {
	for _, text := range o.yarns {
		from, what, err := yarnAndRest("yarn", "NAME", text, c.Yarns)
		if err != nil {
			return nil, err
		}
		if c, err = yarnChanged(c, from, what); err != nil {
			return nil, turnFault(err, "--yarn %c=NAME", from)
		}
	}
	return c, nil
}

// yarnChanged makes a yarn another of the chart, told by symbol or name, or gives it a symbol
// that is free, or a name and a color as they stand in a chart file.
func yarnChanged(c *chart.Chart, from rune, what string) (*chart.Chart, error) {
	y := c.Yarns[c.YarnIndex(from)]
	if to := chart.YarnNamed(c.Yarns, what); to != chart.NoYarn && c.Yarns[to].Symbol != from {
		return c.MapYarn(from, c.Yarns[to].Symbol)
	}
	if symbol, size := utf8.DecodeRuneInString(what); size == len(what) {
		y.Symbol = symbol
		return c.RedeclareYarn(from, y)
	}
	words := strings.Fields(what)
	if last := len(words) - 1; last >= 0 && strings.HasPrefix(words[last], "#") {
		color, err := chart.ParseColor(words[last])
		if err != nil {
			return nil, err
		}
		y.Color, words = color, words[:last]
	}
	if len(words) > 0 {
		y.Name = strings.Join(words, " ")
	}
	return c.RedeclareYarn(from, y)
}
