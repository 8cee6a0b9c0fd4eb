package page

import (
	"bytes"
	_ "embed" // for the page
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"time"

	"strandwise/cmd/document"
	"strandwise/cmd/follow"
	"strandwise/cmd/paint"
)

var (
	//go:embed page.css
	style string
	//go:embed page.js
	script string
	//go:embed page.html
	markup string
)

// fragment is what a script accepts: the page without what never changes.
const fragment = "text/x-fragment"

// look is how words are laid out here: no line of a page is as wide.
var look = paint.Look{Paint: paint.New(paint.None), Marks: paint.ChooseMarks(paint.Unicode, func(string) string { return "" }), Width: 10000}

type view struct {
	Title, Word string
	Scene       follow.Scene
	Press, Seen string
	Changes     int64 // a later view has a higher one
	Sound       string
	Style       template.CSS
	Script      template.JS

	Key, Said string // of the door: what opens it, and why it did not

	drawings int // begun
}

// seen is what a page shows and asks: the newest event it knows of, and what the machine waits for.
func (at *seat) seen() string {
	return fmt.Sprintf("%d-%s", at.newest(), at.State().Asks())
}

func (at *seat) view() *view {
	s := at.State()
	p := s.Piece()
	v := &view{
		Title: p.State.Setup.Name, Word: s.Word(), Scene: s.Scene(look), Press: at.form, Seen: at.seen(), Changes: at.changes,
		Style: template.CSS(style + document.YarnStyle(p.Layout.Fabric.Yarns)), Script: template.JS(script),
	}
	switch said := s.Said(); {
	case said.Warn:
		v.Sound = "early"
	case said.Text != "":
		v.Sound = "logged"
	}
	return v
}

func door(w http.ResponseWriter, key string, status int, said string) {
	v := &view{Style: template.CSS(style), Key: key, Said: said}
	v.send(w, status, "door")
}

func (v *view) send(w http.ResponseWriter, status int, name string) {
	sendPage(w, status, policy(string(v.Style), string(v.Script)), v.render(name))
}

// render fills a template. Writing into memory does not fail, nor does a template whose data are our own: an error is
// a fault of this program.
func (v *view) render(name string) []byte {
	pages := template.Must(template.New("").Funcs(template.FuncMap{
		"kind":   func(b document.Block) string { return reflect.TypeOf(b).Name() },
		"tone":   func(t document.Tone) string { return [...]string{"", "strong", "quiet", "warning"}[t] },
		"tables": v.tables, "svg": v.svg,
	}).Parse(markup))
	var b bytes.Buffer
	if err := pages.ExecuteTemplate(&b, name, v); err != nil {
		panic("page: " + err.Error())
	}
	return b.Bytes()
}

// svg is a drawing as it stands in the page: names in it are escaped, and ids are its own.
func (v *view) svg(d document.Drawing) (template.HTML, error) {
	v.drawings++
	var out strings.Builder
	err := d.SVG(&out, fmt.Sprintf("motion%d", v.drawings))
	return template.HTML(out.String()), err
}

// policy lets a page run its own style and script and nothing else (Content Security Policy Level 3).
func policy(style, script string) string {
	return "default-src 'none'; style-src " + document.Allowed(style) + "; script-src " + document.Allowed(script) +
		"; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
}

func asEvent(v *view) []byte {
	lines := strings.Split(string(v.render("main")), "\n")
	return []byte("data: " + strings.Join(lines, "\ndata: ") + "\n\n")
}

var pressNumber = regexp.MustCompile(`^[0-9a-z]{16,64}$`)

func moveOf(form url.Values) Move {
	number := func(name string) int {
		n, _ := strconv.Atoi(form.Get(name))
		return n
	}
	switch {
	case form.Has("note"):
		return func(s follow.State, now time.Time) follow.State { return s.Note(form.Get("note"), now) }
	case form.Has("pick"):
		return func(s follow.State, now time.Time) follow.State { return s.Choose(number("pick"), 0, now) }
	case form.Has("choose"):
		return func(s follow.State, now time.Time) follow.State {
			return s.Choose(s.Scene(look).Chosen, number("repeat"), now)
		}
	case form.Has("key"):
		return func(s follow.State, now time.Time) follow.State { return s.Tap(form.Get("key"), now) }
	}
	return nil
}

// line is a row of a table that shows a strip.
type line struct {
	Class, Head, Tail string
	Cells             []cell
}

type cell struct{ Class, Text string }

// widest is how many stitches stand beside each other on a phone: our choice.
const widest = 30

// tables show a strip, cut into pieces of nearly the same width.
func (v *view) tables(s document.Strip) [][]line {
	n := len(s.Columns)
	count := (n + widest - 1) / widest
	cuts := make([]int, count+1)
	for i := range cuts {
		cuts[i] = i * n / max(1, count)
	}
	var all [][]line
	for _, piece := range s.CutAt(cuts) {
		all = append(all, v.lines(s, piece))
	}
	return all
}

func (v *view) lines(s document.Strip, p document.StripPiece) []line {
	row := v.stitches("cells high", s.Number, p.Row)
	switch {
	case s.FromLeft && p.First:
		row.Head += " →"
	case p.First:
		row.Tail = "←"
	}
	lines := append(append([]line{row}, v.signs(p.Row, v.Scene.Caught)...), laid("ruler", "", p.Row, numbered))
	for i, below := range p.Below {
		lines = append(append(lines, v.stitches("cells", s.Number-1-i, below)), v.signs(below, nil)...)
	}
	return lines
}

func laid[T any](class, head string, all []T, show func(T) cell) line {
	l := line{Class: class, Head: head}
	for _, one := range all {
		l.Cells = append(l.Cells, show(one))
	}
	return l
}

func (v *view) stitches(class string, number int, columns []document.Column) line {
	return laid(class, fmt.Sprint(number), columns, func(c document.Column) (here cell) {
		if !c.IsEmpty() {
			here = cell{yarnClass(c.Yarn), string(v.Scene.Document.Yarns[c.Yarn].Symbol)}
		}
		if c.Worked {
			here.Class += " worked"
		}
		if c.Chosen {
			here.Class += " chosen"
		}
		return here
	})
}

func yarnClass(yarn int) string { return fmt.Sprintf("yarn y%d", yarn+1) }

// signs are the lines under the stitches, on the color of the yarn that is caught where that is known, by sign.
func (v *view) signs(columns []document.Column, caught map[string]int) []line {
	var lines []line
	for _, signs := range document.SignLines(columns) {
		lines = append(lines, laid("signs", "", signs, func(sign string) cell {
			if yarn, is := caught[sign]; is {
				return cell{yarnClass(yarn), sign}
			}
			return cell{Text: sign}
		}))
	}
	return lines
}

func numbered(c document.Column) cell {
	switch {
	case c.Block > 0:
		return cell{Text: fmt.Sprintf("%d/", c.Block)}
	case c.Stitch > 0 && c.Stitch%5 == 0:
		return cell{Text: fmt.Sprint(c.Stitch)}
	}
	return cell{}
}
