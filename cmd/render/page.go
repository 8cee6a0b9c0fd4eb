package render

import (
	"bufio"
	"fmt"
	"io"

	doc "strandwise/cmd/document"
	"strandwise/cmd/draw"
)

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
	p.put("<style>\n", markup(doc.PageStyle))
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
	_ = s.SVG(p.w, fmt.Sprintf("%s%d", prefix, n)) // end tells
}

// FabricBlocks are both sides of the fabric as sections of a page, in parts where it is large.
func FabricBlocks(k *draw.Knitted, inches bool) []doc.Block {
	var blocks []doc.Block
	for _, side := range []struct {
		side draw.Side
		name string
	}{{draw.WrongSide, "Wrong side"}, {draw.RightSide, "Right side"}} {
		blocks = append(blocks, doc.Heading{Text: doc.Words(side.name)})
		parts := pageParts(k, draw.Options{Side: side.side, Inches: inches})
		if n := len(parts); n > 1 {
			blocks = append(blocks, doc.Line{Text: doc.Words(fmt.Sprintf("In %d parts; neighbors share two rows or stitches.", n))})
		}
		for _, part := range parts {
			blocks = append(blocks, doc.Picture{Drawing: part})
		}
	}
	return blocks
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
