package render

import (
	"fmt"
	"io"
	"strings"

	"strandwise/cmd/draw"
	"strandwise/cmd/paint"
)

// prose is a page of headed paragraphs and lists.
type prose struct {
	page
	begun bool
}

func newProse(w io.Writer, look Look) *prose { return &prose{page: page{w: w, look: look}} }

// heading begins a section: a strong line after an empty one.
func (p *prose) heading(text string) {
	p.gap()
	p.text("", text, p.look.Paint.Strong)
}

// gap is an empty line, but for the first.
func (p *prose) gap() {
	if p.begun {
		p.line("")
	}
	p.begun = true
}

// item is a paragraph below a heading, set in by two columns.
func (p *prose) item(format string, args ...any) {
	p.begun = true
	p.text(p.indent(), fmt.Sprintf(format, args...), nil)
}

// aside is an item that steps back.
func (p *prose) aside(format string, args ...any) {
	p.text(p.indent(), fmt.Sprintf(format, args...), p.look.Paint.Quiet)
}

// list is an item with a lead and members, none of which is broken.
func (p *prose) list(lead string, members []string) {
	pieces := paint.Spans(strings.Fields(lead)...)
	for i, m := range members {
		if i < len(members)-1 {
			m += ","
		}
		pieces = append(pieces, paint.Span{Text: m})
	}
	for _, line := range paint.Wrap(p.indent(), pieces, p.look.Width) {
		p.line(line)
	}
}

func (p *prose) indent() string {
	if p.look.Plain {
		return ""
	}
	return "  "
}

// grid draws rows of stitches.
func (p *prose) grid(g draw.TextChart) {
	if p.err == nil {
		p.err = draw.ChartText(p.w, g, p.look)
	}
}
