package chart

import (
	"fmt"
	"slices"
	"strings"
)

// MapYarn returns the chart in which the stitches of one yarn are worked in another of its
// yarns, both given by symbol; the first is declared no longer.
func (c *Chart) MapYarn(from, to rune) (*Chart, error) {
	for _, symbol := range []rune{from, to} {
		if c.YarnIndex(symbol) == NoYarn {
			return nil, fmt.Errorf("no yarn has the symbol %q: the yarns are %s", string(symbol), spoken(c.yarnSymbols()))
		}
	}
	if from == to {
		return nil, fmt.Errorf("%c is that yarn already; name two", from)
	}
	return c.remap(map[rune]Yarn{from: c.Yarns[c.YarnIndex(to)]}), nil
}

// RedeclareYarn returns the chart in which the yarn with the given symbol has another
// symbol, name or color. It refuses a symbol that stands for something else in the chart, and
// another yarn's name.
func (c *Chart) RedeclareYarn(from rune, y Yarn) (*Chart, error) {
	if c.YarnIndex(from) == NoYarn {
		return nil, fmt.Errorf("no yarn has the symbol %q: the yarns are %s", string(from), spoken(c.yarnSymbols()))
	}
	if err := CheckSymbol(y.Symbol); err != nil {
		return nil, fmt.Errorf("%w; %s", err, symbolRule)
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
	return c.remap(map[rune]Yarn{from: y}), nil
}

// remap puts other yarns in the place of some, told by symbol. Yarns that become one are
// declared once, where the first of them was.
func (c *Chart) remap(by map[rune]Yarn) *Chart {
	symbols := map[rune]rune{}
	for from, to := range by {
		symbols[from] = to.Symbol
	}
	other := func(symbol rune) rune {
		if to, ok := symbols[symbol]; ok {
			return to
		}
		return symbol
	}
	turned := c.copyChart()
	turned.exchange(symbols)
	turned.Yarns, turned.Background = nil, nil
	for _, y := range c.Yarns {
		if to, ok := by[y.Symbol]; ok {
			y = to
		}
		if turned.YarnIndex(y.Symbol) == NoYarn {
			turned.Yarns = append(turned.Yarns, y)
		}
	}
	for i, s := range turned.Stitches {
		turned.Stitches[i].Yarn = other(s.Yarn)
	}
	for _, symbol := range c.Background {
		if symbol = other(symbol); !slices.Contains(turned.Background, symbol) {
			turned.Background = append(turned.Background, symbol)
		}
	}
	return turned
}

// YarnMatch says for which known yarn a color of a picture or table was taken.
type YarnMatch struct {
	From, To Yarn
	DeltaE   float64 // CIEDE2000, 0 when equal
	Stitches int     // worked in it
	Doubt    bool    // another yarn is nearly as near, or a color that is clearly another went to the same yarn
}

// Far reports whether the yarn is not near the color at all: they can be told apart at a glance.
func (m YarnMatch) Far() bool { return m.DeltaE >= AlikeDeltaE }

// TakeYarns returns an imported chart in which each yarn is the nearest of those given, by
// CIEDE2000, with its symbol, name and color, and tells for each which that was, in the order
// of c.Yarns. Yarns equally near: the first given. There must be one at least.
func (c *Chart) TakeYarns(yarns []Yarn) (*Chart, []YarnMatch) {
	known := make([]shade, len(yarns))
	for i, y := range yarns {
		known[i] = shade{color: y.Color, lab: y.Color.Lab()}
	}
	by, matches, counts := map[rune]Yarn{}, []YarnMatch(nil), c.StitchCounts()
	for i, y := range c.Yarns {
		at, first, second := nearestShade(known, y.Color.Lab())
		if same := slices.Index(yarns, y); same >= 0 {
			at, first, second = same, 0, AlikeDeltaE
		}
		by[y.Symbol] = yarns[at]
		matches = append(matches, YarnMatch{
			From: y, To: yarns[at], DeltaE: first, Stitches: counts[i],
			Doubt: first > doubtDeltaE && second < doubtRatio*first,
		})
	}
	doubtShared(matches)
	fit := c.copyChart()
	if slices.ContainsFunc(yarns, func(y Yarn) bool { return y.Symbol == c.Empty }) {
		fit.Empty = unused(c, yarns)
		fit.exchange(map[rune]rune{c.Empty: fit.Empty})
	}
	taken := fit.remap(by)
	slices.SortFunc(taken.Yarns, func(a, b Yarn) int { return slices.Index(yarns, a) - slices.Index(yarns, b) })
	return taken, matches
}

// doubtShared doubts the farther of two colors that are clearly apart and went to one yarn.
func doubtShared(matches []YarnMatch) {
	for i := range matches {
		for j := range matches {
			a, b := &matches[i], &matches[j]
			if a.To == b.To && a.DeltaE < b.DeltaE && DeltaE(a.From.Color.Lab(), b.From.Color.Lab()) >= ApartDeltaE {
				b.Doubt = true
			}
		}
	}
}

// unused is a symbol for empty cells that neither the chart nor the yarns have.
func unused(c *Chart, yarns []Yarn) rune {
	for _, r := range string(emptySymbol) + "-'`!$" + importSymbols + "abcdefghijklmnopqrstuvwxyz" {
		if c.means(r) == "" && !slices.ContainsFunc(yarns, func(y Yarn) bool { return y.Symbol == r }) {
			return r
		}
	}
	return '□'
}
