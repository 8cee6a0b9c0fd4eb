package cmd

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"strandwise/cmd/paint"
)

// report prints an error, as text on stderr or as JSON on stdout, and returns the
// status to end with. What the command had to answer so far is dropped.
func (a *app) report(err error) exit {
	a.out.discard()
	p := a.complete(describe(err), err)
	if a.wantsJSON() && a.reportJSON(p) {
		return p.exit
	}
	fmt.Fprintln(a.err, a.headline(p.what))
	for _, hint := range p.hints {
		fmt.Fprintf(a.err, "  try: %s\n", hint)
	}
	return p.exit
}

// headline is the message of an error, on a terminal broken between words. A message of
// several lines holds an excerpt of a file and stays, as do the hints below: they hold
// commands to copy.
func (a *app) headline(what string) string {
	text := "strandwise: " + what
	if !a.env.ErrTTY || strings.Contains(text, "\n") {
		return text
	}
	words := paint.Spans(strings.Split(text, " ")...)
	return joinLines(paint.Wrap("", words, cmp.Or(a.env.Width(), defaultWidth)))
}

// complete adds what is known about the store and, for a fault of our own, the
// place of the report.
func (a *app) complete(p problem, err error) problem {
	outcome := a.saveState.outcome()
	switch {
	case p.exit.savedNothing() && a.writes.Load() && outcome == nothingSaved:
		p.what = ended(p.what, outcome.String())
	case p.exit == exitInterrupted && (a.writes.Load() || outcome != nothingSaved):
		p.what = ended(p.what, outcome.String())
	case p.exit == exitUnknown:
		p.hints = append(slices.Clone(p.hints), "strandwise resume, which shows what is there")
	case p.exit == exitBug:
		return a.bug(p, err)
	}
	if original(err) == "" {
		return p
	}
	return a.detailed(p, err)
}

// ended puts a last clause to a message: on its own line below a longer one, which
// may end with an excerpt of a file.
func ended(message, clause string) string {
	if strings.Contains(message, "\n") {
		return strings.TrimRight(message, "\n") + "\n" + clause
	}
	return message + "; " + clause
}

// wantsJSON looks at the arguments themselves, since they may be what is wrong.
func (a *app) wantsJSON() bool {
	args := a.env.Args
	if end := slices.Index(args, "--"); end >= 0 {
		args = args[:end]
	}
	return a.flags.json || slices.Contains(args, "--json")
}

// errorAnswer is an error in JSON.
type errorAnswer struct {
	Error errorBody `json:"error"`
}

type errorBody struct {
	Code    string   `json:"code"`
	Exit    int      `json:"exit"`
	Message string   `json:"message"`
	Hints   []string `json:"hints"`
}

// reportJSON reports whether the error could be printed. After an interruption
// the output is closed, and the error is text.
func (a *app) reportJSON(p problem) bool {
	answer := errorAnswer{errorBody{p.exit.word(), int(p.exit), p.what, p.hints}}
	return writeJSON(a.out, 1, answer) == nil && a.out.Flush() == nil
}
