package picture

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/image/colornames"

	"strandwise/chart"
)

// saying is what a cell of a table says: a symbol, a color, or the name of a yarn.
type saying struct {
	symbol  rune   // 0 when it says none
	name    string // as written; empty when it says none
	color   chart.Color
	colored bool        // whether color is known
	known   *chart.Yarn // the known yarn it says; nil when none

	met   bool        // in a cell, not only as what blank ones stand for
	paint chart.Color // what the cells are told by while the chart is made
}

// same reports whether two cells say the same yarn.
func (s saying) same(other saying) bool {
	switch {
	case s.known != nil || other.known != nil:
		return s.known == other.known
	case s.symbol != 0 || other.symbol != 0:
		return s.symbol == other.symbol
	case s.colored || other.colored:
		return s.colored && other.colored && s.color == other.color
	}
	return strings.EqualFold(s.name, other.name)
}

// mixes reports whether one is a symbol, and the other a color or name that no known yarn has.
func (s saying) mixes(other saying) bool {
	word := func(s saying) bool { return s.symbol == 0 && s.known == nil }
	return s.symbol != 0 && word(other) || other.symbol != 0 && word(s)
}

// bare reports whether it says a color that no known yarn has.
func (s saying) bare() bool { return s.colored && s.known == nil }

// longestName bounds the names of yarns in a table, in characters: more is a remark.
const longestName = 40

// say reads a cell that is not blank. Known yarns go first, by symbol, name or color; of
// words, colors go before names.
func (t *table) say(text string) (saying, error) {
	yarns := t.options.Yarns
	if i := chart.YarnNamed(yarns, text); i != chart.NoYarn {
		return ofYarn(&yarns[i], text), nil
	}
	if r, size := utf8.DecodeRuneInString(text); size == len(text) {
		return t.saySymbol(r)
	}
	if c, is, err := tableColor(text); is {
		for i := range yarns {
			if err == nil && yarns[i].Color == c {
				return ofYarn(&yarns[i], ""), nil
			}
		}
		s := saying{color: c, colored: true}
		if err == nil && unicode.IsLetter([]rune(text)[0]) && !isHex(text) {
			s.name = text
		}
		return s, err
	}
	return t.sayName(text)
}

// ofYarn is what says a known yarn, by its symbol or otherwise.
func ofYarn(y *chart.Yarn, text string) saying {
	s := saying{known: y, name: y.Name, color: y.Color, colored: true}
	if text == string(y.Symbol) {
		s.symbol = y.Symbol
	}
	return s
}

func (t *table) saySymbol(r rune) (saying, error) {
	if err := chart.CheckSymbol(r); err != nil {
		return saying{}, fmt.Errorf("%w; %s", err, chart.SymbolRule)
	}
	symbols := make([]rune, len(t.options.Yarns))
	for i, y := range t.options.Yarns {
		symbols[i] = y.Symbol
	}
	if near := chart.NearestSymbol(r, symbols); near != 0 {
		return saying{}, fmt.Errorf("no yarn has the symbol %q; did you mean %c?", string(r), near)
	}
	return saying{symbol: r}, nil
}

// sayName reads the name of a yarn. Where yarns are known it is one of them.
func (t *table) sayName(text string) (saying, error) {
	name := strings.Join(strings.Fields(text), " ")
	first, _ := utf8.DecodeRuneInString(name)
	switch {
	case strings.ContainsRune("=+-@", first):
		return saying{}, fmt.Errorf("%s is a formula; save the table with values only", short(text))
	case unicode.IsDigit(first):
		return saying{}, fmt.Errorf("%s is a number; write a symbol, a color as #RRGGBB or the name of a yarn, in cells formatted as text", short(text))
	case !unicode.IsLetter(first) || strings.ContainsAny(name, ",():") || utf8.RuneCountInString(name) > longestName:
		return saying{}, fmt.Errorf("%s is neither one symbol, nor a color, nor the name of a yarn; clear the cell, or write one of them", short(text))
	}
	for _, r := range name {
		if chart.Invisible(r) || r == utf8.RuneError {
			return saying{}, fmt.Errorf("the invisible character %U in %s; delete it", r, short(text))
		}
	}
	if len(t.options.Yarns) > 0 {
		_, err := (&chart.Chart{Yarns: t.options.Yarns}).FindYarn(name)
		return saying{}, errors.New(strings.Replace(err.Error(), ": ", "; ", 1))
	}
	return saying{name: name}, nil
}

// tableColor reads a color as tables have it: #RRGGBB, #RGB, RRGGBB or a name of CSS (Color
// Module Level 4, section 6.1; case and blanks do not count). It is none when the text is no try at
// a color at all.
func tableColor(text string) (c chart.Color, is bool, err error) {
	digits, marked := strings.CutPrefix(text, "#")
	switch {
	case marked && len(digits) == 3 && hexadecimal(digits):
		d := strings.Split(digits, "")
		c, err = chart.ParseColor("#" + d[0] + d[0] + d[1] + d[1] + d[2] + d[2])
		return c, true, err
	case marked:
		c, err = chart.ParseColor(text)
		if err != nil {
			err = errors.New(strings.ReplaceAll(err.Error(), ": write ", "; write "))
		}
		return c, true, err
	case isHex(text):
		c, err = chart.ParseColor("#" + text)
		return c, true, err
	}
	named, is := colornames.Map[strings.ToLower(strings.Join(strings.Fields(text), ""))]
	return rgb(named.R, named.G, named.B), is, nil
}

// isHex reports whether the text is a color without its mark.
func isHex(text string) bool { return len(text) == 6 && hexadecimal(text) }

func hexadecimal(text string) bool {
	_, err := strconv.ParseUint(text, 16, 32)
	return err == nil
}

// short quotes a cell for an error, cut when it is long.
func short(text string) string {
	if r := []rune(text); len(r) > 20 {
		text = string(r[:20]) + "..."
	}
	return fmt.Sprintf("%q", text)
}
