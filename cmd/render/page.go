package render

import (
	"bufio"
	_ "embed" // for the style
	"fmt"
	"io"

	"strandwise/cmd/draw"
)

// Pages are single files that need no network and no script: style and drawings stand in them,
// and the page itself forbids whatever else. They follow the reader's choice of light or dark,
// drawings staying on white, and print on plain paper.

// pageStyle is the style of every page.
//
//go:embed pages/page.css
var pageStyle markup

// beginPage writes the head of a page. Paper is what it is to be printed on.
func beginPage(w io.Writer, title string, paper draw.Paper) *pageWriter {
	p := &pageWriter{bufio.NewWriter(w)}
	p.put(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
`)
	p.lines(tag{name: "title"}, title)
	p.put("<style>\n", pageStyle)
	p.put("@page { size: ", millimeters(paper.Width), " ", millimeters(paper.Height), "; margin: 14mm; }\n")
	p.put("</style>\n</head>\n<body>\n")
	return p
}

func millimeters(v float64) markup { return markup(fmt.Sprintf("%gmm", v)) }

// end writes the foot of a page and tells the first failed write.
func (p *pageWriter) end() error {
	p.put("</body>\n</html>\n\n")
	return p.w.Flush()
}

// drawing writes a scene as it stands in a page: as wide as drawn where there is room. Its ids
// begin with the prefix and n.
func (p *pageWriter) drawing(s *draw.Scene, prefix markup, n int) {
	_ = draw.Element(p.w, s, fmt.Sprintf("%s%d", prefix, n)) // end tells
}

// figures writes the parts of a picture.
func (p *pageWriter) figures(parts []*draw.Scene, prefix markup) {
	for i, s := range parts {
		p.put("<figure>\n")
		p.drawing(s, prefix, i+1)
		p.put("</figure>\n")
	}
}

// The most columns and rows of a part of a picture on a page: at this width its numbers can be
// read across a sheet of paper.
const (
	pageColumns = 48
	pageRows    = 60
)

// pageParts draws a picture for a page, in parts where it is large.
func pageParts(k *draw.Knitted, o draw.Options) []*draw.Scene {
	return draw.Parts(k, o, pageColumns, pageRows)
}
