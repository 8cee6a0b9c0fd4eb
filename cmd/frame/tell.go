package frame

import (
	"bufio"
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"
	"unicode"

	"strandwise/cmd/document"
	"strandwise/store"
)

// Show prints a document, the answer of a command. The first line that tells what was done
// names the piece where that does not go without saying.
func (a *App) Show(d document.Document) error {
	for i, b := range d.Blocks {
		if line, is := b.(document.Line); is && line.Extra && a.about != "" && line.Text.String() != "" && !line.Text[0].Whole {
			if !strings.Contains(line.Text.String(), a.about) {
				line.Text = append(document.Named(a.about, ": "), line.Text...)
				d.Blocks[i] = line
			}
			a.about = ""
		}
	}
	return document.Write(a.Out, d, a.Display())
}

// Say tells what a change did and the likely next command, unless the knitter
// asked for quiet or for JSON. Either may be empty.
func (a *App) Say(changed, next string) { a.Did(document.Words(changed), next) }

// Did is Say with names in it.
func (a *App) Did(changed document.Text, next string) {
	if !a.Flags.JSON {
		_ = a.Show(document.Document{Blocks: []document.Block{document.Act(changed), document.Next(next)}}) // a.Out keeps the error
	}
}

// Tell prints a document on stderr.
func (a *App) Tell(d document.Document) {
	_, look := a.looks()
	_ = document.Write(a.Err, d, look)
}

// Notice prints a paragraph on stderr.
func (a *App) Notice(format string, args ...any) {
	text := document.Named("strandwise", ": "+fmt.Sprintf(format, args...))
	a.Tell(document.Document{Blocks: []document.Block{document.Line{Text: text}}})
}

// Warn shows what the store found amiss though the work went on, each once in a run.
func (a *App) Warn(warnings []store.Warning) {
	for _, w := range warnings {
		if !slices.Contains(a.warned, w.Text) {
			a.warned = append(a.warned, w.Text)
			a.Notice("%s", w.Text)
		}
	}
}

// Try prints what to do about an error, a hint a line.
func (a *App) Try(hints ...string) {
	for _, hint := range hints {
		fmt.Fprintf(a.Err, "  try: %s\n", hint)
	}
}

// InShell is a name as it is typed at a shell, in quotation marks where it needs them.
func InShell(name string) string {
	special := func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-_.:@/,+%=", r)
	}
	if name != "" && !strings.ContainsFunc(name, special) {
		return name
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, `$`, `\$`, "`", "\\`").Replace(name) + `"`
}

// Confirm asks before something is dropped; what names it, as in "remove hat". It returns nil
// when the knitter agrees, by an answer or by --yes, and refuses where nobody can answer.
func (a *App) Confirm(what string) error {
	if a.Flags.Yes {
		return nil
	}
	if !a.CanAsk() {
		return Usage("this would %s; add --yes", what).
			Hint("the same command with --yes")
	}
	answer, err := a.Ask(what + "? Type yes to go on: ")
	if err != nil {
		return err
	}
	if word := strings.ToLower(answer); word == "yes" || word == "y" {
		return nil
	}
	return Refused("nothing was changed")
}

// WarnBefore prints on stderr what must be read before a question, where one will be asked.
func (a *App) WarnBefore(d document.Document) {
	if !a.Flags.Yes && a.CanAsk() {
		a.Tell(d)
	}
}

// CanAsk reports whether there is a terminal to ask on.
func (a *App) CanAsk() bool { return a.Env.InTTY && a.Env.ErrTTY }

// Ask returns the line that answers, without blanks around; empty where the input ends first.
func (a *App) Ask(question string) (string, error) {
	fmt.Fprint(a.Err, question)
	if a.answers == nil {
		a.answers = bufio.NewReader(a.Env.In)
	}
	answer, err := a.answers.ReadString('\n')
	if a.ctx.Err() != nil {
		return "", a.ctx.Err()
	}
	if err != nil {
		return "", nil // the end of the input is no answer
	}
	return strings.TrimSpace(answer), nil
}

// Progress is shown from patience on, at most once every pace.
const (
	patience      = time.Second
	pace          = 200 * time.Millisecond
	paceOffScreen = 10 * time.Second
)

// Progress shows n of m on stderr: on a terminal one line drawn again, elsewhere more of them.
type Progress struct {
	a     *App
	what  string
	next  time.Time
	drawn bool
}

// StartProgress begins to count; what says what is counted: "rows planned".
func (a *App) StartProgress(what string) *Progress {
	return &Progress{a: a, what: what, next: a.Env.Now().Add(patience)}
}

// Step tells that n of m are done.
func (p *Progress) Step(n, m int) {
	now, look := p.a.Env.Now(), p.a.Display()
	if now.Before(p.next) || look.Quiet {
		return
	}
	line := fmt.Sprintf("%d of %d %s", n, m, p.what)
	if p.a.Env.ErrTTY && !look.Plain {
		p.a.Err.draw("\r" + line)
		p.drawn, p.next = true, now.Add(pace)
		return
	}
	fmt.Fprintln(p.a.Err, line)
	p.next = now.Add(paceOffScreen)
}

// End clears the line.
func (p *Progress) End() {
	if p.drawn {
		p.a.Err.draw("\r\x1b[K")
	}
}

// Answer prints an answer as JSON of that schema where a program asks, else as its document.
func (a *App) Answer(schema int, answer interface{ Document() document.Document }) error {
	if a.Flags.JSON {
		return a.AnswerJSON(schema, answer)
	}
	return a.Show(answer.Document())
}

// AnswerJSON prints body, a struct or a map, on one line with the schema's number in front.
// Lists that are nil come out as [], never as null. Keys are to be in snake_case.
func (a *App) AnswerJSON(schema int, body any) error {
	var buffer bytes.Buffer
	e := json.NewEncoder(&buffer)
	e.SetEscapeHTML(false)
	if err := e.Encode(withLists(reflect.ValueOf(body)).Interface()); err != nil {
		return err
	}
	text := bytes.TrimSpace(buffer.Bytes())
	if len(text) < 2 || text[0] != '{' {
		panic("the body of a JSON answer is no object")
	}
	comma := ","
	if text[1] == '}' {
		comma = ""
	}
	_, err := fmt.Fprintf(a.Out, "{\"schema\":%d%s%s\n", schema, comma, text[1:])
	return err
}

// ownJSON are the types that know how to write themselves.
var ownJSON = []reflect.Type{
	reflect.TypeFor[json.Marshaler](),
	reflect.TypeFor[encoding.TextMarshaler](),
}

// withLists is a copy in which no list is nil, as far as fields, lists and pointers lead.
func withLists(v reflect.Value) reflect.Value {
	if slices.ContainsFunc(ownJSON, v.Type().Implements) {
		return v
	}
	body := reflect.New(v.Type()).Elem()
	body.Set(v)
	switch v.Kind() {
	case reflect.Slice:
		body.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := range v.Len() {
			body.Index(i).Set(withLists(v.Index(i)))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if field := body.Field(i); field.CanSet() {
				field.Set(withLists(v.Field(i)))
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			body.Set(reflect.New(v.Type().Elem()))
			body.Elem().Set(withLists(v.Elem()))
		}
	}
	return body
}
