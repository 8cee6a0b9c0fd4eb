package chart

import (
	"fmt"
	"slices"
	"strings"
)

// YarnNamed returns the index of the yarn with the given symbol or, when none has it,
// name; the case of a name does not count. It is NoYarn when there is none.
func YarnNamed(yarns []Yarn, text string) int {
	if i := slices.IndexFunc(yarns, func(y Yarn) bool { return text == string(y.Symbol) }); i >= 0 {
		return i
	}
	return slices.IndexFunc(yarns, func(y Yarn) bool { return strings.EqualFold(text, y.Name) })
}

// FindYarn is YarnNamed with an error that names the nearest yarn, or all.
func (c *Chart) FindYarn(text string) (int, error) {
	if i := YarnNamed(c.Yarns, text); i != NoYarn {
		return i, nil
	}
	names := make([]string, len(c.Yarns))
	for i, y := range c.Yarns {
		names[i] = y.Name
	}
	if near := Nearest(text, names); near != "" {
		return NoYarn, fmt.Errorf("no yarn is called %q: did you mean %s?", text, near)
	}
	known := make([]string, len(c.Yarns))
	for i, y := range c.Yarns {
		known[i] = fmt.Sprintf("%c %s", y.Symbol, y.Name)
	}
	return NoYarn, fmt.Errorf("no yarn is called %q: the yarns are %s", text, strings.Join(known, ", "))
}

// SwapYarns returns the chart with two yarns, given by symbol, exchanged in every stitch and
// in the declared background. It refuses a symbol that is no yarn, or the same one twice.
func (c *Chart) SwapYarns(a, b rune) (*Chart, error) {
	if err := c.declares(a, b); err != nil {
		return nil, err
	}
	if a == b {
		return nil, fmt.Errorf("cannot swap the yarn %c with itself; name two", a)
	}
	swapped := c.WithYarns(map[rune]Yarn{a: c.Yarns[c.YarnIndex(b)], b: c.Yarns[c.YarnIndex(a)]})
	swapped.Yarns = slices.Clone(c.Yarns)
	return swapped, nil
}

func (c *Chart) declares(symbols ...rune) error {
	for _, symbol := range symbols {
		if c.YarnIndex(symbol) == NoYarn {
			return fmt.Errorf("no yarn has the symbol %q: the yarns are %s", string(symbol), spoken(c.yarnSymbols()))
		}
	}
	return nil
}

func (c *Chart) yarnSymbols() []rune {
	symbols := make([]rune, len(c.Yarns))
	for i, y := range c.Yarns {
		symbols[i] = y.Symbol
	}
	return symbols
}
