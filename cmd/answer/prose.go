package answer

import (
	"cmp"
	"fmt"
	"regexp"
	"strings"
	"time"

	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/session"
)

// prose gathers the blocks of headed paragraphs and lists.
type prose struct{ blocks []d.Block }

func (p *prose) add(b ...d.Block) { p.blocks = append(p.blocks, b...) }

func (p *prose) heading(text d.Text) { p.add(d.Heading{Text: text}) }

// item is a paragraph, aside one that steps back.
func (p *prose) item(format string, args ...any) {
	p.add(d.Line{Text: d.Words(fmt.Sprintf(format, args...))})
}

func (p *prose) aside(format string, args ...any) {
	p.add(d.Line{Text: d.Words(fmt.Sprintf(format, args...)), Tone: d.Quiet})
}

// warn is one that stands out.
func (p *prose) warn(format string, args ...any) {
	p.add(d.Line{Text: d.Words(fmt.Sprintf(format, args...)), Tone: d.Warning})
}

// list has members parted by commas, none of which is broken.
func (p *prose) list(lead string, members []string) {
	p.add(d.List{Lead: lead, Between: ",", Members: mapped(members, d.Words)})
}

// rows lists rows under a heading, if there are any.
func (p *prose) rows(heading string, rows []int) {
	if len(rows) > 0 {
		p.heading(d.Words(heading))
		p.list("", session.Ranges(rows))
	}
}

const rowsListed = 40 // that a section lists one by one

// some are lines under a heading, if any is given: nothing where there is none.
func (p *prose) some(heading string, lines []d.Text, more func(left int) string) {
	if heading != "" && len(lines) > 0 {
		p.heading(d.Words(heading))
	}
	for _, line := range lines[:min(len(lines), rowsListed)] {
		p.add(d.Line{Text: line})
	}
	if left := len(lines) - rowsListed; left > 0 {
		p.item("%s", more(left))
	}
}

func andMore(left int) string { return fmt.Sprintf("and %d more", left) }

func stitches(n int) string { return d.Counted(n, "stitch") }

// named is a paragraph that begins with a name.
func (p *prose) named(name, format string, args ...any) {
	p.add(d.Line{Text: d.Named(name, fmt.Sprintf(format, args...))})
}

func (p *prose) eachItem(texts []string) {
	for _, text := range texts {
		p.item("%s", text)
	}
}

func (p *prose) fact(name, format string, args ...any) {
	p.factText(name, d.Words(fmt.Sprintf(format, args...)))
}

// factText is one with more than words; those in a row are told below each other.
func (p *prose) factText(name string, text d.Text) {
	if last := len(p.blocks) - 1; last >= 0 {
		if facts, is := p.blocks[last].(d.Pairs); is {
			p.blocks[last] = d.Pairs{Pairs: append(facts.Pairs, d.Pair{Name: name, Text: text})}
			return
		}
	}
	p.add(d.Pairs{Pairs: []d.Pair{{Name: name, Text: text}}})
}

// numbered is a line behind its number: a lead, and words with names in them that keep theirs.
func (p *prose) numbered(number, lead, words string) {
	said := d.Span{Aloud: strings.TrimSpace(number) + ": "}
	p.add(d.Line{Label: number, Text: d.Text{said, {Text: lead}, {Text: words, Aloud: LettersAloud(words), Name: true}}})
}

// act tells what a command did, next what to do next.
func (p *prose) act(format string, args ...any) { p.add(d.Act(d.Words(fmt.Sprintf(format, args...)))) }

func (p *prose) next(format string, args ...any) { p.add(d.Next(fmt.Sprintf(format, args...))) }

func (p *prose) document() d.Document { return d.Document{Blocks: p.blocks} }

// gauges finds a gauge in a text: stitches, rows, the lengths of both and their unit.
var gauges = regexp.MustCompile(`(\d[\d.]*)(?:x(\d[\d.]*))?/([\d.]*)(?:x(\d[\d.]*))? ?(cm|in)`)

// gauge is a gauge, "24x28/10cm", to be heard as "24 stitches and 28 rounds to 10 centimeters".
func gauge(gauge, word string) d.Span {
	m := gauges.FindStringSubmatch(gauge)
	if m == nil {
		return d.Span{Text: gauge}
	}
	unit := map[string]string{"cm": "centimeters", "in": "inches"}[m[5]]
	aloud := numbered(m[1], "stitch")
	if m[4] != "" {
		aloud += fmt.Sprintf(" to %s %s", m[3], unit)
	}
	if m[2] != "" {
		aloud += " and " + numbered(m[2], word)
	}
	return d.Span{Text: gauge, Aloud: fmt.Sprintf("%s to %s %s", aloud, cmp.Or(m[4], m[3]), unit)}
}

func measured(text, word string) d.Text {
	return d.Text{{Text: text, Aloud: gauges.ReplaceAllStringFunc(text, func(found string) string { return gauge(found, word).Aloud })}}
}

func numbered(number, noun string) string {
	if number == "1" {
		return "1 " + noun
	}
	return number + " " + chart.Plural(noun, 2)
}

func are(n int, noun string) string {
	return d.Counted(n, noun) + map[bool]string{true: " is", false: " are"}[n == 1]
}

func items(texts []string) d.Items {
	return d.Items{Items: mapped(texts, func(t string) d.Item { return d.Item{Text: d.Words(t)} })}
}

// catchItems are texts in which catches are named as a list.
func catchItems(texts []string) d.Items {
	return d.Items{Items: mapped(texts, func(t string) d.Item { return d.Item{Text: Catches(t)} })}
}

// symbol is the symbol of a yarn; those that are not heard by themselves have names.
func symbol(sign string) d.Span {
	name, known := map[string]string{
		".": "dot", "-": "dash", "+": "plus", "#": "number sign", "*": "star", ":": "colon", "/": "slash", "~": "tilde", "=": "equals",
	}[sign]
	if !known {
		name = sign
	}
	return d.Span{Text: sign, Aloud: "symbol " + name}
}

func roughly(t time.Duration) string {
	if t < time.Minute/2 {
		return d.Spent(t)
	}
	return "about " + d.Spent(t)
}

func ago(t time.Duration) string {
	const day = 24 * time.Hour
	switch {
	case t < time.Minute:
		return "just now"
	case t < 2*time.Hour:
		return d.Spent(t) + " ago"
	case t < 2*day:
		return fmt.Sprintf("%d hours ago", t/time.Hour)
	case t < 60*day:
		return fmt.Sprintf("%d days ago", t/day)
	}
	return fmt.Sprintf("%d months ago", t/(30*day))
}

var lettered = regexp.MustCompile(`\b(?:catch|twist) [a-z]{1,2}\b`)

// Catches is a text in which catches are named by their letters, which are heard as capitals,
// lest "a" be heard as the article.
func Catches(text string) d.Text { return d.Text{{Text: text, Aloud: LettersAloud(text)}} }

// LettersAloud is such a text as it is heard.
func LettersAloud(text string) string {
	return lettered.ReplaceAllStringFunc(text, func(found string) string {
		word, letter, _ := strings.Cut(found, " ")
		return word + " " + strings.ToUpper(letter)
	})
}

// mapped is what is made of each member of a list; nil of none.
func mapped[A, B any](all []A, made func(A) B) []B {
	var list []B
	for _, one := range all {
		list = append(list, made(one))
	}
	return list
}
