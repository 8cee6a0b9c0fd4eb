package answer

import (
	"fmt"

	d "strandwise/cmd/document"
)

// prose gathers the blocks of headed paragraphs and lists.
type prose struct{ blocks []d.Block }

func (p *prose) add(b ...d.Block) { p.blocks = append(p.blocks, b...) }

// heading begins a section.
func (p *prose) heading(text d.Text) { p.add(d.Heading{Text: text}) }

// item is a paragraph, aside one that steps back.
func (p *prose) item(format string, args ...any) {
	p.add(d.Line{Text: d.Words(fmt.Sprintf(format, args...))})
}

func (p *prose) aside(format string, args ...any) {
	p.add(d.Line{Text: d.Words(fmt.Sprintf(format, args...)), Tone: d.Quiet})
}

// list has members parted by commas, none of which is broken.
func (p *prose) list(lead string, members []string) {
	list := d.List{Lead: lead, Between: ","}
	for _, m := range members {
		list.Members = append(list.Members, d.Words(m))
	}
	p.add(list)
}

// rowsListed bounds how many rows a section lists one by one.
const rowsListed = 40

// each adds the first of n things one by one, and says how many more there are.
func (p *prose) each(n int, add func(i int), more func(left int) string) {
	for i := range min(n, rowsListed) {
		add(i)
	}
	if n > rowsListed {
		p.item("%s", more(n-rowsListed))
	}
}

// andMore is how many more there are of what needs no name.
func andMore(left int) string { return fmt.Sprintf("and %d more", left) }

func stitches(n int) string { return d.Counted(n, "stitch") }
