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
	Title, Word  string
	Scene        follow.Scene
	Press, Seen  string
	Changes      int64 // a later view has a higher one
	Sound, Aloud string
	Style        template.CSS
	Script       template.JS

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
	v.Aloud = strings.Join(v.Scene.Aloud, " ")
	switch said := s.Said(); {
	case said.Warn:
		v.Sound = "early"
	case said.Text != "":
		v.Sound = "logged"
	}
	return v
}

func (s *Server) door(w http.ResponseWriter, key string, status int, said string) {
	respond(w, status, &view{Style: template.CSS(style), Key: key, Said: said}, "door")
}

func respond(w http.ResponseWriter, status int, v *view, name string) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", policy(string(v.Style), string(v.Script)))
	w.WriteHeader(status)
	_, _ = w.Write(v.render(name))
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
