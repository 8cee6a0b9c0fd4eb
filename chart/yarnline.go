package chart

import (
	"fmt"
	"strings"
	"unicode"
)

// The symbol counts as declared even when the rest is wrong, or every row that uses it would
// be named too.
func (p *parser) yarn(line int, words []word) {
	symbol := p.declare(line, words[0])
	if len(words) < 3 {
		after := words[len(words)-1]
		p.fault(line, after.column+len([]rune(after.text)), "write "+yarnShape,
			"a yarn needs a symbol, a name and a color")
		return
	}
	last := words[len(words)-1]
	color, err := ParseColor(last.text)
	if err != nil {
		p.fault(line, last.column, colorHint(last.text), "%q is not a color", last.text)
	}
	if len(p.chart.Yarns) == MaxSymbols {
		p.tooMany(line, words[0], "yarns")
		return
	}
	name := joinWords(words[1 : len(words)-1])
	p.checkName(line, words[1:len(words)-1])
	p.chart.Yarns = append(p.chart.Yarns, Yarn{symbol, name, color})
	p.yarnLines = append(p.yarnLines, line)
}

// checkName refuses the names that could not be read back from a row line such as
// "3 oat, 11 fjord (oat on 6), x 12".
func (p *parser) checkName(line int, words []word) {
	name := joinWords(words)
	for _, w := range words {
		if i := strings.IndexAny(w.text, ",():"); i >= 0 {
			p.fault(line, w.column+len([]rune(w.text[:i])), "leave out commas, colons and parentheses",
				"a yarn name cannot have %q in it", w.text[i:i+1])
			return
		}
	}
	first := []rune(name)[0]
	switch {
	case unicode.IsDigit(first):
		p.fault(line, words[0].column, "begin it with a letter: a row line puts the count first",
			"a yarn name cannot begin with the digit %c", first)
	case strings.EqualFold(name, "x"):
		p.fault(line, words[0].column, "choose a longer name: a row line ends with x and the repeats",
			"a yarn cannot be called %s", name)
	}
	for i, y := range p.chart.Yarns {
		if strings.EqualFold(y.Name, name) {
			p.fault(line, words[0].column, "give each yarn a name of its own: row lines speak by name",
				"the yarn of line %d is called %s too", p.yarnLines[i], y.Name)
			return
		}
	}
}

type reference struct {
	line int  // of a stitch or the background
	yarn word // by its symbol
}

func (p *parser) resolve() {
	for _, ref := range p.references {
		symbols := []rune(ref.yarn.text)
		if len(symbols) == 1 && p.isYarn(symbols[0]) {
			continue
		}
		p.fault(ref.line, ref.yarn.column, p.yarnHint(ref.yarn.text), "no yarn has the symbol %q", ref.yarn.text)
	}
}

// isYarn also takes the symbols of yarn lines that were faulty otherwise.
func (p *parser) isYarn(symbol rune) bool {
	if p.chart.YarnIndex(symbol) != NoYarn {
		return true
	}
	line, ok := p.declared[symbol]
	return ok && strings.HasPrefix(strings.TrimSpace(p.lines[line-1]), "yarn")
}

func (p *parser) yarnHint(text string) string {
	if i := YarnNamed(p.chart.Yarns, text); i != NoYarn {
		return fmt.Sprintf("name a yarn by its symbol: %s is %c", p.chart.Yarns[i].Name, p.chart.Yarns[i].Symbol)
	}
	symbols := p.chart.yarnSymbols()
	for _, s := range p.chart.Stitches {
		if string(s.Symbol) == text {
			return fmt.Sprintf("%s is a stitch; name the yarn it is worked in: %c", text, s.Yarn)
		}
	}
	if near := NearestSymbol([]rune(text)[0], symbols); near != 0 {
		return fmt.Sprintf("did you mean %c?", near)
	}
	if len(symbols) == 0 {
		return "declare the yarn: " + yarnShape
	}
	return "the yarns are " + spoken(symbols)
}
