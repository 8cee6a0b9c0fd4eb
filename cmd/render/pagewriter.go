package render

import (
	"bufio"
	"html"
)

// markup is text that a browser reads as markup. A constant of this package becomes markup by
// itself. What the knitter wrote is a string, which the compiler takes for text only, and text is
// escaped: so nothing of theirs can be written as markup by mistake.
type markup string

// tag is a kind of element: its name, and its class if it has one.
type tag struct{ name, class markup }

// The elements of pages that hold a line of text.
var (
	heading   = tag{name: "h1"}
	paragraph = tag{name: "p"}
	quietly   = tag{name: "p", class: "quiet"}
	strongly  = tag{name: "p", class: "differ"}
	item      = tag{name: "li"}
)

// pageWriter writes a page. Its writer remembers the first failed write, and end tells it.
type pageWriter struct{ w *bufio.Writer }

// put writes markup as it is.
func (p *pageWriter) put(parts ...markup) {
	for _, m := range parts {
		_, _ = p.w.WriteString(string(m))
	}
}

// text writes any text so that it is read as it stands.
func (p *pageWriter) text(text string) { _, _ = p.w.WriteString(html.EscapeString(text)) }

// element writes an element that holds text.
func (p *pageWriter) element(t tag, text string) {
	p.put("<", t.name)
	if t.class != "" {
		p.put(` class="`, t.class, `"`)
	}
	p.put(">")
	p.text(text)
	p.put("</", t.name, ">")
}

// lines writes an element for each text, on a line of its own.
func (p *pageWriter) lines(t tag, texts ...string) {
	for _, text := range texts {
		p.element(t, text)
		p.put("\n")
	}
}

// list writes a list, ol or ul.
func (p *pageWriter) list(name markup, items []string) {
	p.put("<", name, ">\n")
	p.lines(item, items...)
	p.put("</", name, ">\n")
}

// section writes a section with its title, which names it. The id is that of the title.
func (p *pageWriter) section(id markup, title string, inside func()) {
	p.put(`<section aria-labelledby="`, id, "\">\n", `<h2 id="`, id, `">`)
	p.text(title)
	p.put("</h2>\n")
	inside()
	p.put("</section>\n")
}
