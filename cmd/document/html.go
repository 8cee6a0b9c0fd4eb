package document

import (
	"bufio"
	_ "embed" // for the style
	"fmt"
	"html"
	"io"
	"strconv"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paper"
)

// Pages are single files that need no network and no script: style and drawings stand in them,
// and the page itself forbids whatever else. They follow the reader's choice of light or dark,
// drawings staying on white, and print on plain paper.

// pageStyle is the style of every page.
//
//go:embed page.css
var pageStyle string

// largeStyle is added for low vision: letters of 24 points without serifs, black on white wherever
// they are read.
const largeStyle markup = `:root { color-scheme: light; --ink: #000; --quiet: #000; --paper: #fff; --line: #000; }
@media all {
  :root { --ink: #000; --quiet: #000; --paper: #fff; --line: #000; }
  html, body, h1, h2, h3, .row > h3 { font-size: 24pt; font-family: sans-serif; }
  body { max-width: none; }
  .row input { width: 2rem; height: 2rem; }
}
`

// WriteHTML writes a document as one page, to be printed on paper of that width and height in
// mm. What stands before the first heading is the page's head; each heading names its
// section. The same document gives the same bytes. An error is one of w, or of a drawing.
func WriteHTML(w io.Writer, d Document, paper paper.Paper) error {
	p := &pageWriter{w: bufio.NewWriter(w), yarns: d.Yarns}
	p.raw(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
`)
	p.element("title", d.Title)
	p.raw("<style>\n", markup(pageStyle))
	if d.Large {
		p.raw(largeStyle)
	}
	p.raw("@page { size: ", number(paper.Width), "mm ", number(paper.Height), "mm; margin: 14mm; }\n</style>\n</head>\n<body>\n<header>\n")
	p.element("h1", d.Title)
	for _, t := range d.Head {
		p.line("p", "", t)
	}
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

// markup is text that a browser reads as markup. A constant of this package becomes markup by
// itself. What the knitter wrote is a string, which the compiler takes for text only, and text is
// escaped: so nothing of theirs can be written as markup by mistake.
type markup string

// number is a number as markup.
func number(v float64) markup { return markup(strconv.FormatFloat(v, 'f', -1, 64)) }

type pageWriter struct {
	w                  *bufio.Writer
	yarns              []chart.Yarn
	sections, drawings int   // begun
	err                error // of the first drawing that failed
}

// raw writes markup as it is; words and names go through escaped.
func (p *pageWriter) raw(parts ...markup) {
	for _, m := range parts {
		_, _ = p.w.WriteString(string(m))
	}
}

func (p *pageWriter) escaped(text string) { _, _ = p.w.WriteString(html.EscapeString(text)) }

func (p *pageWriter) element(tag markup, text string) {
	p.raw("<" + tag + ">")
	p.escaped(text)
	p.raw("</" + tag + ">\n")
}

// line writes an element with a text in it.
func (p *pageWriter) line(tag, class markup, text Text) {
	p.raw("<" + tag + class + ">")
	p.text(text)
	p.raw("</" + tag + ">\n")
}

// classes are the classes of tones.
var classes = map[Tone]markup{Strong: ` class="differ"`, Quiet: ` class="quiet"`, Warning: ` class="differ"`}

func (p *pageWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		p.heading(b)
	case Line:
		p.labeled(b)
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
		p.raw(`<p class="differ">`)
		p.row(b)
		p.raw("</p>\n")
	case Strip, Letters: // a page has a picture
	case Picture:
		p.figure(b.Drawing)
	case Card:
		p.card(b)
	default:
		panic("page: a block without a case")
	}
}

func (p *pageWriter) figure(drawing Drawing) {
	p.drawings++
	p.raw("<figure>\n")
	if err := drawing.SVG(p.w, fmt.Sprintf("drawing%d", p.drawings)); p.err == nil {
		p.err = err
	}
	p.raw("</figure>\n")
}

// labeled is a line behind its label; one that is only heard is left out.
func (p *pageWriter) labeled(b Line) {
	if b.Text.String() == "" {
		return
	}
	text := b.Text
	if label := strings.TrimSpace(b.Label); label != "" {
		text = append(Words(label+" "), text...)
	}
	p.line("p", classes[b.Tone], text)
}

// row writes a row for a glance; its style breaks lines between runs.
func (p *pageWriter) row(b Row) {
	p.escaped(b.Head)
	for _, run := range b.Runs {
		p.raw(` <span class="run">`)
		p.text(run.Text)
		p.raw("</span>")
	}
}

// tick begins the label of a box.
func (p *pageWriter) tick(t Tick) {
	p.raw("<label><input type=\"checkbox\"", map[bool]markup{true: " checked"}[t.Done], "> ")
}

// card writes a row with its box to tick, or rows that are alike with a box each.
func (p *pageWriter) card(b Card) {
	p.raw("<article class=\"row\">\n<h3>")
	if len(b.Ticks) == 1 {
		p.tick(b.Ticks[0])
		p.row(b.Row)
		p.raw("</label></h3>\n")
	} else {
		p.row(b.Row)
		p.raw("</h3>\n<p>")
		for _, t := range b.Ticks {
			p.tick(t)
			p.raw(number(float64(t.Row)), "</label>&emsp;\n")
		}
		p.raw("</p>\n")
	}
	for _, more := range b.Blocks {
		p.block(more)
	}
	p.raw("</article>\n")
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
		id := `"section` + number(float64(p.sections)) + `"`
		p.raw("<section aria-labelledby=", id, ">\n")
		p.line("h2", " id="+id, b.Text)
	}
	if len(b.Sum) > 0 {
		p.line("p", "", b.Sum)
	}
}

func (p *pageWriter) items(b Items) {
	tag := markup("ul")
	if b.Numbered {
		tag = "ol"
	}
	p.raw("<" + tag + ">\n")
	for _, item := range b.Items {
		p.raw("<li>")
		p.text(item.Text)
		if item.Place != "" {
			p.raw(` <a href="#`)
			p.escaped(item.Place)
			p.raw(`">in the picture</a>`)
		}
		if item.More.String() != "" {
			p.raw("\n")
			p.line("p", "", item.More)
		}
		if item.Drawing != nil {
			p.raw("\n")
			p.figure(item.Drawing)
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
			p.raw("<td" + map[bool]markup{true: ` class="number"`}[b.Columns[i].Number] + ">")
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
			c, ink := p.yarns[s.Yarn-1].Color, markup("#000")
			if white := (chart.Color{R: 255, G: 255, B: 255}); chart.ContrastRatio(c, white) > chart.ContrastRatio(c, chart.Color{}) {
				ink = "#fff"
			}
			p.raw(`<span class="yarn" style="background: `, markup(c.String()), "; color: ", ink, `">`)
		case s.Tone != Usual:
			p.raw("<span" + classes[s.Tone] + ">")
		}
		p.escaped(Text{s}.unbroken())
		if s.Yarn > 0 || s.Tone != Usual {
			p.raw("</span>")
		}
	}
}
