package picture

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/image/colornames"

	"strandwise/chart"
)

type kind int

const (
	known   kind = iota // anything a known yarn has
	symbols             // a symbol nothing is known of
	colors              // a color, perhaps by its name
	names
)

// String is the kind as the yarns are counted by it.
func (k kind) String() string { return [...]string{"yarns", "symbols", "colors", "yarns"}[k] }

func (k kind) colored() bool { return k == known || k == colors }

type saying struct {
	kind  kind
	yarn  chart.Yarn // what is told of the yarn
	cells int
}

// key is equal where two cells say the same yarn.
func (s saying) key() chart.Yarn {
	switch s.kind {
	case colors:
		return chart.Yarn{Color: s.yarn.Color}
	case names:
		return chart.Yarn{Name: strings.ToLower(s.yarn.Name)}
	}
	return s.yarn
}

// say reads a cell that is not blank: known yarns first, by symbol, name or color; of words, colors before names.
func (t *table) say(text string) (saying, error) {
	yarns := t.options.Yarns
	if i := chart.YarnNamed(yarns, text); i != chart.NoYarn {
		return saying{kind: known, yarn: yarns[i]}, nil
	}
	if r, size := utf8.DecodeRuneInString(text); size == len(text) {
		return t.saySymbol(r)
	}
	color, is, err := tableColor(text)
	if !is {
		return t.sayName(text)
	}
	if i := slices.IndexFunc(yarns, func(y chart.Yarn) bool { return y.Color == color }); i >= 0 && err == nil {
		return saying{kind: known, yarn: yarns[i]}, nil
	}
	s := saying{kind: colors, yarn: chart.Yarn{Color: color}}
	if !strings.HasPrefix(text, "#") && !isHex(text) {
		s.yarn.Name = strings.Join(strings.Fields(text), " ")
	}
	return s, err
}

func (t *table) saySymbol(r rune) (saying, error) {
	if err := chart.CheckSymbol(r); err != nil {
		return saying{}, fmt.Errorf("%w; %s", err, chart.SymbolRule)
	}
	declared := make([]rune, len(t.options.Yarns))
	for i, y := range t.options.Yarns {
		declared[i] = y.Symbol
	}
	if near := chart.NearestSymbol(r, declared); near != 0 {
		return saying{}, fmt.Errorf("no yarn has the symbol %q; did you mean %c?", string(r), near)
	}
	return saying{kind: symbols, yarn: chart.Yarn{Symbol: r}}, nil
}

// sayName reads the name of a yarn. Where yarns are known it is one of them.
func (t *table) sayName(text string) (saying, error) {
	name := strings.Join(strings.Fields(text), " ")
	first, _ := utf8.DecodeRuneInString(name)
	const longest = 40 // characters: more is a remark
	var wrong string
	switch hidden := strings.IndexFunc(name, func(r rune) bool { return chart.Invisible(r) || r == utf8.RuneError }); {
	case strings.ContainsRune("=+-@", first):
		wrong = "is a formula; save the table with values only"
	case unicode.IsDigit(first):
		wrong = "is a number; write a symbol, a color as #RRGGBB or the name of a yarn, in cells formatted as text"
	case !unicode.IsLetter(first) || strings.ContainsAny(name, ",():") || utf8.RuneCountInString(name) > longest:
		wrong = "is neither one symbol, nor a color, nor the name of a yarn; clear the cell, or write one of them"
	case hidden >= 0:
		r, _ := utf8.DecodeRuneInString(name[hidden:])
		wrong = fmt.Sprintf("has the invisible character %U in it; delete it", r)
	case len(t.options.Yarns) > 0:
		_, err := (&chart.Chart{Yarns: t.options.Yarns}).FindYarn(name)
		return saying{}, errors.New(strings.Replace(err.Error(), ": ", "; ", 1))
	default:
		return saying{kind: names, yarn: chart.Yarn{Name: name}}, nil
	}
	return saying{}, fmt.Errorf("%s %s", short(text), wrong)
}

// tableColor reads #RRGGBB, #RGB, RRGGBB or a name of CSS (Color Module Level 4, section 6.1; case and blanks do not
// count). It is none when the text is no try at a color at all.
func tableColor(text string) (c chart.Color, is bool, err error) {
	digits, marked := strings.CutPrefix(text, "#")
	if !marked && !isHex(text) {
		named, is := colornames.Map[strings.ToLower(strings.Join(strings.Fields(text), ""))]
		return rgb(named.R, named.G, named.B), is, nil
	}
	c, err = chart.ParseColor("#" + digits)
	if d := digits; err != nil && len(d) == 3 {
		c, err = chart.ParseColor("#" + d[:1] + d[:1] + d[1:2] + d[1:2] + d[2:] + d[2:])
	}
	if err != nil {
		err = errors.New(strings.ReplaceAll(err.Error(), ": write ", "; write "))
	}
	return c, true, err
}

func isHex(text string) bool {
	_, err := strconv.ParseUint(text, 16, 32)
	return err == nil && len(text) == 6
}

func short(text string) string {
	if r := []rune(text); len(r) > 20 {
		text = string(r[:20]) + "..."
	}
	return fmt.Sprintf("%q", text)
}
