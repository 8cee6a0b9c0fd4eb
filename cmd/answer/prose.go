package answer

import (
	"fmt"
	"strings"

	d "strandwise/cmd/document"
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

const rowsListed = 40 // that a section lists one by one

func (p *prose) some(lines []d.Text, more func(left int) string) {
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
