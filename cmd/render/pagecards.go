package render

import (
	"io"

	"strandwise/cmd/draw"
)

// CardsHTML writes cards as one page. The same cards give the same bytes.
func CardsHTML(w io.Writer, c *Cards, paper draw.Paper) error {
	p := beginPage(w, c.Title, paper)
	p.put("<header>\n")
	p.lines(heading, c.Title)
	p.lines(paragraph, c.Intro...)
	p.lines(quietly, c.Cautions...)
	p.put("</header>\n<main>\n")
	p.section("chart", "Chart", func() {
		p.figures(pageParts(c.Chart, draw.Options{Side: draw.RightSide, Inches: c.Inches}), "chart")
	})
	p.section("rows", rowsTitle(c), func() {
		for i := range c.Rows {
			p.card(&c.Rows[i])
		}
	})
	p.put("</main>\n")
	return p.end()
}

// rowsTitle is what the rows are called.
func rowsTitle(c *Cards) string {
	if c.Rows[0].Word == "row" {
		return "Rows"
	}
	return "Rounds"
}

// card writes a row with its box to tick.
func (p *pageWriter) card(r *CardRow) {
	p.put(`<article class="row">`, "\n", `<h3><label><input type="checkbox"> `)
	p.text(r.Glance)
	p.put("</label></h3>\n")
	p.lines(strongly, r.OtherRepeats...)
	p.drawing(r.Strip, "row", r.Number)
	p.lines(quietly, r.Place)
	p.lines(paragraph, r.Notes...)
	for _, m := range r.Motions {
		p.lines(paragraph, m.Title+":")
		p.list("ol", m.Steps)
		p.lines(quietly, m.Notes...)
	}
	p.lines(strongly, r.Begins...)
	p.put("</article>\n")
}
