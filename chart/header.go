package chart

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

type word struct {
	text   string
	column int // of its first character, from 1
}

// splitWords cuts a text into words; before is how many characters of the line come before it.
func splitWords(text string, before int) []word {
	var words []word
	for _, w := range strings.Fields(text) {
		blank, rest, _ := strings.Cut(text, w)
		before += utf8.RuneCountInString(blank)
		words = append(words, word{w, before + 1})
		before, text = before+utf8.RuneCountInString(w), rest
	}
	return words
}

func joinWords(words []word) string {
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = w.text
	}
	return strings.Join(texts, " ")
}

const (
	yarnShape   = "yarn: SYMBOL NAME COLOR, for example yarn: x fjord #1F4E79"
	stitchShape = "stitch: SYMBOL YARN TECHNIQUE, for example stitch: / . k2tog"
	emptyShape  = "empty: SYMBOL, for example empty: _"
	titleShape  = "title: Harbour lights"
	groundShape = "background: SYMBOL..., for example background: ."
)

var headers = []struct {
	name  string
	once  bool
	shape string
	read  func(p *parser, line int, words []word)
}{
	{"title", true, titleShape, (*parser).title},
	{"yarn", false, yarnShape, (*parser).yarn},
	{"stitch", false, stitchShape, (*parser).stitch},
	{"empty", true, emptyShape, (*parser).empty},
	{"background", true, groundShape, (*parser).background},
}

func (p *parser) header(line int) {
	name, after, colon := strings.Cut(p.lines[line-1], ":")
	end := utf8.RuneCountInString(name) + 1
	name = strings.TrimSpace(name)
	switch {
	case !colon && name == "", colon && name == "rows":
		return
	case strings.HasPrefix(name, "#"):
		p.chart.Comments = append(p.chart.Comments, strings.TrimSpace(p.lines[line-1])[1:])
		return
	}
	column := splitWords(p.lines[line-1], 0)[0].column
	if !colon {
		p.fault(line, column, "a header line is WORD: and what belongs to it, for example "+titleShape, "this line has no colon")
		return
	}
	names := []string{"rows"}
	for _, h := range headers {
		if names = append(names, h.name); h.name != name {
			continue
		}
		words := splitWords(after, end)
		switch {
		case h.once && p.once[name] > 0:
			p.fault(line, column, "keep one of the two",
				"a second %s: line; the first is line %d", name, p.once[name])
		case len(words) == 0:
			p.fault(line, end+1, "write "+h.shape, "nothing stands after %s:", name)
		default:
			h.read(p, line, words)
		}
		p.once[name] = line
		return
	}
	hint := "a header line begins with title:, yarn:, stitch:, empty:, background: or #"
	if near := Nearest(name, names); near != "" {
		hint = "write " + near + ":"
	}
	p.fault(line, column, hint, "%q is not the beginning of a header line", printable(name)+":")
}

func (p *parser) title(line int, words []word) { p.chart.Title = joinWords(words) }

// The yarn may be declared further down, so it is looked up when the header has ended.
func (p *parser) stitch(line int, words []word) {
	symbol := p.declare(line, words[0])
	if len(words) != 3 {
		after := words[min(len(words), 4)-1]
		p.fault(line, after.column, "write "+stitchShape, "a stitch needs a symbol, a yarn and a technique")
		return
	}
	technique, err := ParseTechnique(words[2].text)
	if err != nil {
		p.fault(line, words[2].column, techniqueHint(words[2].text), "%q is not a technique", words[2].text)
	}
	if len(p.chart.Stitches) == MaxSymbols {
		p.tooMany(line, words[0], "stitches")
		return
	}
	p.references = append(p.references, reference{line, words[1]})
	p.chart.Stitches = append(p.chart.Stitches, StitchSymbol{symbol, []rune(words[1].text)[0], technique})
}

func (p *parser) empty(line int, words []word) {
	p.chart.Empty = p.declare(line, words[0])
	if len(words) > 1 {
		p.fault(line, words[1].column, "write "+emptyShape, "only one symbol can stand for an empty cell")
	}
}

func (p *parser) background(line int, words []word) {
	seen := map[string]bool{}
	for i, w := range words {
		if i == MaxSymbols {
			p.tooMany(line, w, "background yarns")
			return
		}
		if seen[w.text] {
			p.fault(line, w.column, "name each background yarn once", "the yarn %s stands here twice", w.text)
		}
		seen[w.text] = true
		p.references = append(p.references, reference{line, w})
		p.chart.Background = append(p.chart.Background, []rune(w.text)[0])
	}
}

func (p *parser) tooMany(line int, w word, what string) {
	p.fault(line, w.column, "leave some out", "the chart has more than %d %s", MaxSymbols, what)
}

func (p *parser) declare(line int, w word) rune {
	symbols := []rune(w.text)
	if len(symbols) > 1 {
		p.fault(line, w.column+1, SymbolRule, "%q is %d characters", w.text, len(symbols))
	} else if err := CheckSymbol(symbols[0]); err != nil {
		p.fault(line, w.column, SymbolRule, "%v", err)
	} else if first, ok := p.declared[symbols[0]]; ok {
		p.fault(line, w.column, "choose another symbol", "the symbol %c is already declared in line %d", symbols[0], first)
	}
	for _, r := range symbols[:min(len(symbols), 8)] {
		if _, ok := p.declared[r]; !ok {
			p.declared[r] = line
		}
	}
	return symbols[0]
}

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
	symbols := p.chart.YarnSymbols()
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
