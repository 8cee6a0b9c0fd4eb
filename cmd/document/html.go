package document

import (
	"bufio"
	_ "embed" // for the style
	"fmt"
	"html"
	"io"
	"strconv"

	"strandwise/chart"
)

// Pages are single files that need no network and no script: style and drawings stand in them,
// and the page itself forbids whatever else. They follow the reader's choice of light or dark,
// drawings staying on white, and print on plain paper.

// PageStyle is the style of every page.
//
//go:embed page.css
var PageStyle string

// WriteHTML writes a document as one page, to be printed on paper of that width and height in
// mm. What stands before the first heading is the page's head; each heading names its
// section. The same document gives the same bytes. An error is one of w, or of a drawing.
func WriteHTML(w io.Writer, d Document, width, height float64) error {
	p := &pageWriter{w: bufio.NewWriter(w), yarns: d.Yarns}
	p.raw(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
`)
	p.element("title", d.Title)
	p.raw("<style>\n" + PageStyle)
	p.raw(fmt.Sprintf("@page { size: %smm %smm; margin: 14mm; }\n</style>\n</head>\n<body>\n<header>\n", decimal(width), decimal(height)))
	p.element("h1", d.Title)
	for _, b := range d.Blocks {
		p.block(b)
	}
	if p.sections > 0 {
		p.raw("</section>\n</main>\n")
	} else {
		p.raw("</header>\n")
	}
	p.raw("</body>\n</html>\n")
	if p.err != nil {
		return p.err
	}
	return p.w.Flush()
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

type pageWriter struct {
	w                  *bufio.Writer
	yarns              []chart.Yarn
	sections, drawings int   // begun
	err                error // of the first drawing that failed
}

// raw writes markup as it is; words and names go through escaped.
func (p *pageWriter) raw(markup string) { _, _ = p.w.WriteString(markup) }

func (p *pageWriter) escaped(text string) { p.raw(html.EscapeString(text)) }

func (p *pageWriter) element(tag, text string) {
	p.raw("<" + tag + ">")
	p.escaped(text)
	p.raw("</" + tag + ">\n")
}

// line writes an element with a text in it.
func (p *pageWriter) line(tag, class string, text Text) {
	p.raw("<" + tag + class + ">")
	p.text(text)
	p.raw("</" + tag + ">\n")
}

// classes are the classes of tones.
var classes = map[Tone]string{Strong: ` class="differ"`, Quiet: ` class="quiet"`, Warning: ` class="differ"`}

func (p *pageWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		p.heading(b)
	case Line:
		p.line("p", classes[b.Tone], b.Text)
	case Items:
		p.items(b)
	case Pairs:
		p.raw("<dl>\n")
		for _, pair := range b.Pairs {
			p.element("dt", pair.Name)
			p.line("dd", "", pair.Text)
		}
		p.raw("</dl>\n")
	case List:
		if b.Lead != "" {
			p.element("p", b.Lead)
		}
		p.raw("<ul>\n")
		for _, m := range b.Members {
			p.line("li", "", m)
		}
		p.raw("</ul>\n")
	case Table:
		p.table(b)
	case Row:
		runs := make([]Text, len(b.Runs))
		for i, run := range b.Runs {
			runs[i] = run.Text
		}
		p.line("p", "", joined(Text{{Text: b.Head + " ", Tone: Strong}}, runs, " "))
	case Strip: // a page has it as a picture
	case Picture:
		p.drawings++
		p.raw("<figure>\n")
		if err := b.Drawing.SVG(p.w, fmt.Sprintf("drawing%d", p.drawings)); p.err == nil {
			p.err = err
		}
		p.raw("</figure>\n")
	default:
		panic("page: a block without a case")
	}
}

// heading begins a section, or a part of one.
func (p *pageWriter) heading(b Heading) {
	if b.Sub {
		p.line("h3", "", b.Text)
	} else {
		if p.sections == 0 {
			p.raw("</header>\n<main>\n")
		} else {
			p.raw("</section>\n")
		}
		p.sections++
		p.raw(fmt.Sprintf("<section aria-labelledby=\"section%d\">\n", p.sections))
		p.line("h2", fmt.Sprintf(` id="section%d"`, p.sections), b.Text)
	}
	if len(b.Sum) > 0 {
		p.line("p", "", b.Sum)
	}
}

func (p *pageWriter) items(b Items) {
	tag := "ul"
	if b.Numbered {
		tag = "ol"
	}
	p.raw("<" + tag + ">\n")
	for _, item := range b.Items {
		p.raw("<li>")
		p.text(item.Text)
		if item.More.String() != "" {
			p.raw("\n")
			p.line("p", "", item.More)
		}
		p.raw("</li>\n")
	}
	p.raw("</" + tag + ">\n")
}

func (p *pageWriter) table(b Table) {
	p.raw("<table>\n<thead><tr>")
	for _, c := range b.Columns {
		p.raw(`<th scope="col">`)
		p.escaped(c.Name)
		p.raw("</th>")
	}
	p.raw("</tr></thead>\n<tbody>\n")
	for _, row := range b.Rows {
		p.raw("<tr>")
		for i, cell := range row {
			p.raw("<td" + map[bool]string{true: ` class="number"`}[b.Columns[i].Number] + ">")
			p.text(cell)
			p.raw("</td>")
		}
		p.raw("</tr>\n")
	}
	p.raw("</tbody>\n</table>\n")
}

// text writes spans; a yarn's stands on its color, in black or white, whichever is read better.
func (p *pageWriter) text(text Text) {
	for _, s := range text {
		switch {
		case s.Yarn > 0:
			c, ink := p.yarns[s.Yarn-1].Color, "#000"
			if white := (chart.Color{R: 255, G: 255, B: 255}); chart.ContrastRatio(c, white) > chart.ContrastRatio(c, chart.Color{}) {
				ink = "#fff"
			}
			p.raw(fmt.Sprintf(`<span style="background: #%02x%02x%02x; color: %s">`, c.R, c.G, c.B, ink))
		case s.Tone != Usual:
			p.raw("<span" + classes[s.Tone] + ">")
		}
		p.escaped(s.Text)
		if s.Yarn > 0 || s.Tone != Usual {
			p.raw("</span>")
		}
	}
}
