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

// pictureWriter draws a scene into a file by the ending of its name, an SVG on standard output; a
// PDF has pages of its own. Both are asked for when they are written. No name is no picture.
func pictureWriter(name string, scene func() *draw.Scene, pages func() document.Document, p paper.Paper) (func(io.Writer) error, error) {
	switch ext := strings.ToLower(filepath.Ext(name)); {
	case name == "":
		return nil, nil
	case ext == ".svg" || name == frame.FromStdin:
		return func(w io.Writer) error { return draw.SVG(w, scene()) }, nil
	case ext == ".png":
		return func(w io.Writer) error { return draw.PNG(w, scene()) }, nil
	case ext == ".pdf":
		return func(w io.Writer) error { return document.WritePDF(w, pages(), p) }, nil
	}
	return nil, frame.Usage("--picture %s: the name is to end in .svg, .png or .pdf", name).Hint("--picture %s.svg", name)
}

// fabricWriter is pictureWriter for a fabric.
func fabricWriter(name string, knitted func() *draw.Knitted, look draw.Options, p paper.Paper) (func(io.Writer) error, error) {
	scene := func() *draw.Scene { return draw.Picture(knitted(), look) }
	return pictureWriter(name, scene, func() document.Document { return answer.FabricPaper(knitted(), look, p) }, p)
}
