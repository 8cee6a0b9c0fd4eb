package document

import (
	"bufio"
	"crypto/sha256"
	_ "embed" // for the page and its style
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"reflect"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/paper"
)

// Pages are single files that need no network and no script: style and drawings stand in them,
// and the page itself forbids whatever else. They follow the reader's choice of light or dark,
// drawings staying on white, and print on plain paper.

// pageTemplate is the page around the blocks, and a template of its name for each kind of block. It
// escapes what the knitter wrote by where that stands, so nothing of theirs becomes markup.
//
//go:embed page.html
var pageTemplate string

//go:embed page.css
var pageStyle string

type page struct {
	Document
	Style    template.CSS
	Before   []Block // the first heading: the head of the page
	Sections []section

	filled   *template.Template
	drawings int // begun
}

type section struct {
	Heading
	Number int // from 1
	Blocks []Block
}

// stopsApart is how many cards lie from one that the contents lead to to the next.
const stopsApart = 20

// Stops are the rows of cards that the contents lead to, in a section of many.
func (s section) Stops() []int {
	var rows []int
	for _, b := range s.Blocks {
		if c, is := b.(Card); is {
			rows = append(rows, c.Ticks[0].Row)
		}
	}
	if len(rows) <= 2*stopsApart {
		return nil
	}
	var stops []int
	for part := range slices.Chunk(rows, stopsApart) {
		stops = append(stops, part[0])
	}
	return stops
}

// WriteHTML writes a document as one page, to be printed on paper of that width and height in
// mm. What stands before the first heading is the page's head; each heading names its
// section. The same document gives the same bytes. An error is one of w, or of a drawing.
func WriteHTML(w io.Writer, d Document, size paper.Paper) error {
	p := &page{Document: d, Style: template.CSS(PageStyle(d, size))}
	for _, b := range d.Blocks {
		last := len(p.Sections) - 1
		if h, is := b.(Heading); is && !h.Sub {
			p.Sections = append(p.Sections, section{Heading: h, Number: last + 2})
		} else if last >= 0 {
			p.Sections[last].Blocks = append(p.Sections[last].Blocks, b)
		} else {
			p.Before = append(p.Before, b)
		}
	}
	p.filled = template.Must(template.New("").Funcs(template.FuncMap{
		"blocks": p.blocks, "svg": p.svg, "trim": strings.TrimSpace,
		"class": func(t Tone) string { return [...]string{Strong: "differ", Quiet: "quiet", Warning: "differ"}[t] },
		"shown": Span.unbroken,
	}).Parse(pageTemplate))
	out := bufio.NewWriter(w)
	if err := p.filled.ExecuteTemplate(out, "page", p); err != nil {
		return err
	}
	return out.Flush()
}

func (p *page) blocks(all []Block) (template.HTML, error) {
	var out strings.Builder
	for _, b := range all {
		if err := p.block(&out, b); err != nil {
			return "", err
		}
	}
	return template.HTML(out.String()), nil
}

func (p *page) block(w io.Writer, b Block) error {
	switch b.(type) {
	case Strip, Letters: // a page has a picture
		return nil
	case Heading, Line, Items, Pairs, List, Row, Picture, Card:
		return p.filled.ExecuteTemplate(w, reflect.TypeOf(b).Name(), b)
	default:
		panic("page: a block without a case")
	}
}

// svg is a drawing as it stands in a page; ids in it are its own.
func (p *page) svg(drawing Drawing) (template.HTML, error) {
	p.drawings++
	var out strings.Builder
	err := drawing.SVG(&out, fmt.Sprintf("drawing%d", p.drawings))
	return template.HTML(out.String()), err
}

// PageStyle is the style in the page that WriteHTML writes.
func PageStyle(d Document, size paper.Paper) string {
	return fmt.Sprintf("%s%s@page { size: %gmm %gmm; margin: 14mm; }\n", pageStyle, YarnStyle(d.Yarns), size.Width, size.Height)
}

// Policy lets the page use its own style and nothing else (Content Security Policy Level 3).
func (p *page) Policy() template.HTMLAttr {
	return template.HTMLAttr(fmt.Sprintf(`content="default-src 'none'; style-src %s"`, Allowed(string(p.Style))))
}

// Allowed is how a policy names a style or a script that stands in a page.
func Allowed(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// YarnStyle lets what stands on the color of a yarn, class y1 and so on, be black or white, whichever is read better.
func YarnStyle(yarns []chart.Yarn) string {
	var b strings.Builder
	for i, y := range yarns {
		fmt.Fprintf(&b, ".y%d { background: %s; color: %s; }\n", i+1, y.Color, y.Color.Ink())
	}
	return b.String()
}

const noBreak = "\u00A0" // a blank

func (s Span) unbroken() string {
	if s.Whole {
		return strings.ReplaceAll(s.Text, " ", noBreak)
	}
	return s.Text
}
