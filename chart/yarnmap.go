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
			return fmt.Errorf("no yarn has the symbol %q: the yarns are %s", string(symbol), spoken(c.YarnSymbols()))
		}
	}
	return nil
}

// YarnSymbols are the symbols of the yarns, in the order of Yarns.
func (c *Chart) YarnSymbols() []rune {
	symbols := make([]rune, len(c.Yarns))
	for i, y := range c.Yarns {
		symbols[i] = y.Symbol
	}
	return symbols
}

// MapYarn returns the chart with from, which is declared no longer, worked in to, both symbols.
func (c *Chart) MapYarn(from, to rune) (*Chart, error) {
	if err := c.declares(from, to); err != nil {
		return nil, err
	}
	if from == to {
		return nil, fmt.Errorf("%c is that yarn already; name two", from)
	}
	return c.WithYarns(map[rune]Yarn{from: c.Yarns[c.YarnIndex(to)]}), nil
}

// RedeclareYarn returns the chart in which the yarn with the symbol from is y. It refuses a
// symbol that stands for something else in the chart, and another yarn's name.
func (c *Chart) RedeclareYarn(from rune, y Yarn) (*Chart, error) {
	if err := c.declares(from); err != nil {
		return nil, err
	}
	if err := CheckSymbol(y.Symbol); err != nil {
		return nil, fmt.Errorf("%w; %s", err, SymbolRule)
	}
	if y.Symbol != from {
		if what := c.means(y.Symbol); what != "" {
			return nil, fmt.Errorf("%c is %s already; choose another symbol", y.Symbol, what)
		}
		if y.Symbol == c.Empty {
			return nil, fmt.Errorf("%c is a cell without a stitch already; choose another symbol", y.Symbol)
		}
	}
	for _, other := range c.Yarns {
		if other.Symbol != from && strings.EqualFold(other.Name, y.Name) {
			return nil, fmt.Errorf("the yarn %c is called %s already; map the one to the other by symbol, or choose another name", other.Symbol, other.Name)
		}
	}
	return c.WithYarns(map[rune]Yarn{from: y}), nil
}

// WithYarns returns the chart with other yarns in the place of some, told by symbol. Yarns that
// become one are declared once, where the first of them was. A stitch or empty cell whose symbol
// one of them has gets another.
func (c *Chart) WithYarns(by map[rune]Yarn) *Chart {
	symbols, taken := map[rune]rune{}, []rune{}
	for from, to := range by {
		symbols[from], taken = to.Symbol, append(taken, to.Symbol)
	}
	other := func(symbol rune) rune {
		if to, ok := symbols[symbol]; ok {
			return to
		}
		return symbol
	}
	turned := c.copyChart()
	turned.Yarns, turned.Background = nil, nil
	for _, y := range c.Yarns {
		if to, ok := by[y.Symbol]; ok {
			y = to
		}
		if turned.YarnIndex(y.Symbol) == NoYarn {
			turned.Yarns = append(turned.Yarns, y)
		}
	}
	giveWay := func(symbol *rune) {
		if slices.Contains(taken, *symbol) {
			free := c.unused(taken)
			symbols[*symbol], *symbol, taken = free, free, append(taken, free)
		}
	}
	giveWay(&turned.Empty)
	for i, s := range turned.Stitches {
		turned.Stitches[i].Yarn = other(s.Yarn)
		giveWay(&turned.Stitches[i].Symbol)
	}
	turned.exchange(symbols)
	for _, symbol := range c.Background {
		if symbol = other(symbol); !slices.Contains(turned.Background, symbol) {
			turned.Background = append(turned.Background, symbol)
		}
	}
	return turned
}

func (c *Chart) unused(taken []rune) rune {
	for _, r := range "_-'`!$.x+o=*v&^%~s|zT?abcdefghijklmnopqrstuvwxyz" {
		if r != c.Empty && c.means(r) == "" && !slices.Contains(taken, r) {
			return r
		}
	}
	return '□'
}
