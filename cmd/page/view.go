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
	State       follow.State
	Scene       follow.Scene
	Press, Seen string
	Changes     int64 // a later view has a higher one
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
	return &view{
		State: s, Scene: s.Scene(look), Press: at.form, Seen: at.seen(), Changes: at.changes,
		Style: template.CSS(style + document.YarnStyle(s.Piece().Layout.Fabric.Yarns)), Script: template.JS(script),
	}
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
	var b bytes.Buffer
	if err := template.Must(pages.Clone()).Funcs(v.functions()).ExecuteTemplate(&b, name, v); err != nil {
		panic("page: " + err.Error())
	}
	return b.Bytes()
}

// pages are parsed once; each view has its own functions.
var pages = template.Must(template.New("").Funcs((*view)(nil).functions()).Parse(markup))

func (v *view) functions() template.FuncMap {
	return template.FuncMap{
		"kind":   func(b document.Block) string { return reflect.TypeOf(b).Name() },
		"tone":   func(t document.Tone) string { return [...]string{"", "strong", "quiet", "warning"}[t] },
		"yarn":   func(of document.Column) string { return string(v.Scene.Document.Yarns[of.Yarn].Symbol) },
		"below":  func(row, i int) int { return row - 1 - i },
		"fifth":  func(n int) bool { return n > 0 && n%5 == 0 },
		"pieces": pieces, "signs": document.SignLines, "class": yarnClass, "caught": v.caught, "svg": v.svg,
	}
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

// widest is how many stitches stand beside each other on a phone: our choice.
const widest = 30

// pieces cuts a strip into pieces of nearly the same width.
func pieces(s document.Strip) []document.StripPiece {
	n := len(s.Columns)
	count := (n + widest - 1) / widest
	cuts := make([]int, count+1)
	for i := range cuts {
		cuts[i] = i * n / max(1, count)
	}
	return s.CutAt(cuts)
}

func yarnClass(yarn int) string { return fmt.Sprintf("yarn y%d", yarn+1) }

// caught is the class of a sign: the yarn that is caught, where that is known.
func (v *view) caught(sign string) string {
	if yarn, is := v.Scene.Caught[sign]; is {
		return yarnClass(yarn)
	}
	return ""
}
