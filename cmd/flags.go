package cmd

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
	"strandwise/cmd/paper"
	"strandwise/session"
)

func withTaken[T any](take func(*frame.App) (T, error), run func(*frame.App, T, []string) error) func(*frame.App, []string) error {
	return func(a *frame.App, args []string) error {
		taken, err := take(a)
		if err != nil {
			return err
		}
		return run(a, taken, args)
	}
}

func oneAmong(words []string) frame.Completer {
	return func(*frame.App, []string) []string { return words }
}

// readInto reads the value of a flag when it is given; an empty one is as good as none.
func readInto[T any](to *T, read func(string) (T, error)) func(string) error {
	return func(text string) (err error) {
		if text != "" {
			*to, err = read(text)
		}
		return err
	}
}

// rowRange reads the value of --rows or its like: one row or two with a colon, from 1 to
// last, both in; nothing is all of them. Word is what a row is called; there says which there
// are, in that word and the last.
func rowRange(flag, text string, last int, word, there string) (from, to int, err error) {
	if text == "" {
		return 1, last, nil
	}
	first, second, two := strings.Cut(text, ":")
	from, err = unsigned(first)
	if to = from; err == nil && two {
		to, err = unsigned(second)
	}
	if errors.Is(err, strconv.ErrSyntax) {
		return 0, 0, frame.Usage("--%s takes a %s or two, not %q", flag, word, text).Hint("--%s 3 or --%[1]s 3:20", flag)
	}
	if err != nil || from < 1 || to < from || to > last {
		return 0, 0, frame.Usage("--%s %s: "+there, flag, text, word, last).Hint("--%s 1:%d", flag, max(1, last))
	}
	return from, to, nil
}

// unsigned reads a whole number without a sign; one that is too large is the largest there is.
func unsigned(text string) (int, error) {
	n, err := strconv.ParseUint(text, 10, 31)
	return int(n), err
}

type twoCounts struct{ across, up int }

// pairOf reads two numbers, each from 1 to most; takes tells what they are, like is an example.
func pairOf(sign string, most int, takes, like string) func(string) (twoCounts, error) {
	return func(text string) (p twoCounts, err error) {
		across, up, _ := strings.Cut(text, sign)
		p.across, _ = unsigned(across) // 0 where it is no number
		p.up, _ = unsigned(up)
		if min(p.across, p.up) < 1 || max(p.across, p.up) > most {
			return twoCounts{}, frame.Usage("takes %s, not %q", takes, text).Hint("%s", like)
		}
		return p, nil
	}
}

const mostPixels = 1000

var pixels = pairOf("x", mostPixels, fmt.Sprintf("pixels as WxH, each 1 to %d", mostPixels), "--cell 12x10")

func addPaper(set *pflag.FlagSet, to *string) {
	set.Var(frame.OneOf(to, paper.A4.Name, paper.Letter.Name), "paper", "paper of a PDF: `a4|letter` (default: letter where lengths are in inches, else a4)")
}

func paperNamed(name string, inches bool) paper.Paper {
	if name == paper.Letter.Name || name == "" && inches {
		return paper.Letter
	}
	return paper.A4
}

// outFile is a file that a flag asks for, of a kind that the ending of its name tells.
type outFile struct {
	name  string   // "" where none is asked for
	flag  string   // that asks for it
	kinds []string // the endings there may be, with their dots; the first is the kind on standard output; none is any name
	set   *pflag.FlagSet
}

// add adds the flag of a file of one of those kinds, and --force; the letter may be empty.
func (f *outFile) add(set *pflag.FlagSet, flag, letter, usage string, kinds ...string) {
	f.flag, f.kinds, f.set = flag, kinds, set
	set.VarP(f, flag, letter, usage)
	if set.Lookup("force") == nil {
		set.Bool("force", false, "replace a file that is there")
	}
}

func (f *outFile) force() bool {
	force, _ := f.set.GetBool("force")
	return force
}

// String is the name.
func (f *outFile) String() string { return f.name }

// Type is that of flags which take any text.
func (f *outFile) Type() string { return "string" }

// Set takes a name that tells a kind.
func (f *outFile) Set(name string) error {
	f.name = name
	if len(f.kinds) == 0 || slices.Contains(f.kinds, f.kind()) {
		return nil
	}
	wrong := frame.Usage("takes a name that ends in %s, not %s", session.Listed(f.kinds, "or"), frame.InShell(name))
	for _, kind := range f.kinds {
		right := cmp.Or(strings.TrimSuffix(name, filepath.Ext(name)), "NAME") + kind
		wrong.Hint("--%s %s", f.flag, frame.InShell(right))
	}
	return wrong
}

func (f *outFile) asked() bool { return f.name != "" }

// isAnswer reports whether what is written is the whole answer of the command.
func (f *outFile) isAnswer() bool { return f.name == frame.FromStdin }

// kind is the ending of the name; .htm is .html.
func (f *outFile) kind() string {
	ending := strings.ToLower(filepath.Ext(f.name))
	switch {
	case f.isAnswer():
		return f.kinds[0]
	case ending == ".htm":
		return ".html"
	}
	return ending
}

func (f *outFile) write(a *frame.App, said, next string, write func(w io.Writer) error) error {
	err := a.WriteOutput(f.name, f.force(), write)
	if err == nil && !f.isAnswer() {
		a.Say(said, next)
	}
	return err
}

var pictureKinds = []string{".svg", ".png", ".pdf"}

// draw asks for the scene, or for the pages, only when it writes them.
func (f *outFile) draw(a *frame.App, said string, scene func() *draw.Scene, pages func() document.Document, p paper.Paper) error {
	return f.write(a, said, "", func(w io.Writer) error {
		switch f.kind() {
		case ".svg":
			return draw.SVG(w, scene())
		case ".png":
			return draw.PNG(w, scene())
		case ".pdf":
			return document.WritePDF(w, pages(), p)
		}
		return document.WriteHTML(w, pages(), p)
	})
}

func (f *outFile) drawFabric(a *frame.App, said string, k *draw.Knitted, o draw.Options, p paper.Paper) error {
	scene := func() *draw.Scene { return draw.Picture(k, o) }
	return f.draw(a, said, scene, func() document.Document { return answer.FabricPaper(k, o, p) }, p)
}

func inches(a *frame.App) bool { return a.Settings.Get("units").Text == "inches" }

func listOf[T, U any](all []T, says func(T) U) []U {
	list := make([]U, len(all))
	for i, one := range all {
		list[i] = says(one)
	}
	return list
}
