package cmd

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
	"strandwise/cmd/paper"
	"strandwise/floats"
)

var rowsForm = regexp.MustCompile(`^(\d+)(?::(\d+))?$`)

// rowRange reads the value of --rows or its like: one row or two with a colon, from 1 to
// last, both in; nothing is all of them. Word is what a row is called; there says which there
// are, in that word and the last.
func rowRange(flag, text string, last int, word, there string) (from, to int, err error) {
	if text == "" {
		return 1, last, nil
	}
	m := rowsForm.FindStringSubmatch(text)
	if m == nil {
		return 0, 0, frame.Usage("--%s takes a %s or two, not %q", flag, word, text).Hint("--%s 3 or --%[1]s 3:20", flag)
	}
	from, err = strconv.Atoi(m[1])
	if to = from; err == nil && m[2] != "" {
		to, err = strconv.Atoi(m[2])
	}
	if err != nil || from < 1 || to < from || to > last {
		return 0, 0, frame.Usage("--%s %s: "+there, flag, text, word, last).Hint("--%s 1:%d", flag, max(1, last))
	}
	return from, to, nil
}

// twoNumbers reads two whole numbers in a form such as %dx%d.
func twoNumbers(text, form string) (a, b int, ok bool) {
	var rest string
	n, _ := fmt.Sscanf(text, form+"%s", &a, &b, &rest)
	return a, b, n == 2
}

// addPaper adds the flag of what paper a document is for.
func addPaper(set *pflag.FlagSet, to *string) {
	set.Var(frame.OneOf(to, paper.A4.Name, paper.Letter.Name), "paper", "paper of a PDF: `a4|letter` (default: letter where lengths are in inches, else a4)")
}

// paperNamed is the paper of that name; without one that of the units.
func paperNamed(name string, inches bool) paper.Paper {
	if name == paper.Letter.Name || name == "" && inches {
		return paper.Letter
	}
	return paper.A4
}

// writePicture draws a scene into a file by the ending of its name, an SVG on standard output; a
// PDF has pages of its own. Either is asked for when it is written.
func writePicture(a *frame.App, file string, force bool, scene func() *draw.Scene, pages func() document.Document, p paper.Paper) error {
	var write func(io.Writer) error
	switch ext := strings.ToLower(filepath.Ext(file)); {
	case ext == ".svg" || file == frame.FromStdin:
		write = func(w io.Writer) error { return draw.SVG(w, scene()) }
	case ext == ".png":
		write = func(w io.Writer) error { return draw.PNG(w, scene()) }
	case ext == ".pdf":
		write = func(w io.Writer) error { return document.WritePDF(w, pages(), p) }
	default:
		return frame.Usage("--picture %s: the name is to end in .svg, .png or .pdf", file).Hint("--picture %s.svg", file)
	}
	return a.WriteOutput(file, force, write)
}

// checkSheet refuses a name that a page should not have.
func checkSheet(sheet string) error {
	if ext := strings.ToLower(filepath.Ext(sheet)); sheet != "" && sheet != frame.FromStdin && ext != ".html" && ext != ".htm" {
		return frame.Usage("--sheet %s: the name is to end in .html", sheet).Hint("--sheet %s.html", sheet)
	}
	return nil
}

// writeFabric is writePicture of a fabric.
func writeFabric(a *frame.App, file string, force bool, k *draw.Knitted, o draw.Options, p paper.Paper) error {
	scene := func() *draw.Scene { return draw.Picture(k, o) }
	return writePicture(a, file, force, scene, func() document.Document { return answer.FabricPaper(k, o, p) }, p)
}

// inches reports whether lengths are told in inches.
func inches(a *frame.App) bool { return a.Settings.Get("units").Text == "inches" }

// readGiven reads the value of a flag where there is one.
func readGiven[T any](to *T, text string, read func(string) (T, error)) (err error) {
	if text != "" {
		*to, err = read(text)
	}
	return asUsage(err)
}

// asUsage turns a value that could not be read into a fault of usage that says
// what would be right; nil stays nil.
func asUsage(err error) error {
	var form *floats.FormatError
	if errors.As(err, &form) {
		return frame.Usage("%s %q cannot be read", form.What, form.Value).Hint("%s", form.Want).Because(err)
	}
	return err
}
