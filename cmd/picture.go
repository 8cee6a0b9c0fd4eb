package cmd

import (
	"io"
	"path/filepath"
	"strings"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
	"strandwise/cmd/paper"
)

// pictureWriter draws a fabric into a file by the ending of its name, an SVG on standard output.
// The fabric is asked for when it is drawn. No name is no picture.
func pictureWriter(name string, knitted func() *draw.Knitted, look draw.Options, p paper.Paper) (func(io.Writer) error, error) {
	switch ext := strings.ToLower(filepath.Ext(name)); {
	case name == "":
		return nil, nil
	case ext == ".svg" || name == frame.FromStdin:
		return func(w io.Writer) error { return draw.SVG(w, draw.Picture(knitted(), look)) }, nil
	case ext == ".png":
		return func(w io.Writer) error { return draw.PNG(w, draw.Picture(knitted(), look)) }, nil
	case ext == ".pdf":
		return func(w io.Writer) error { return document.WritePDF(w, answer.FabricPaper(knitted(), look, p), p) }, nil
	}
	return nil, frame.Usage("--picture %s: the name is to end in .svg, .png or .pdf", name).Hint("--picture %s.svg", name)
}
