package follow

import (
	"strings"

	"strandwise/cmd/paint"
)

// keyList lists all keys, or words, from the table by which they work.
func (s State) keyList(p *pad) {
	if s.o.Lines {
		p.strong("words")
		for _, w := range words() {
			p.labeled("  "+strings.TrimSpace(w.name+" "+w.rest)+": ", s.inWord(w.does))
		}
		return
	}
	for _, part := range []struct {
		title string
		mode  mode
	}{{"keys", knitting}, {"while a catch is chosen", choosing}} {
		p.strong("%s", part.title)
		if part.mode == knitting {
			p.quiet("a press forward within 2 seconds of a new %s logs nothing", s.word())
		}
		for _, b := range bindings(part.mode) {
			p.labeled("  "+b.label+": ", s.inWord(b.does))
		}
	}
}

// inWord puts what a row of the piece is called into a text of the tables.
func (s State) inWord(text string) string { return strings.ReplaceAll(text, "ROW", s.word()) }

// labeled adds a text after its label, further lines set in by four. A label stays as it
// is, since u and U are two keys.
func (p *pad) labeled(label, text string) {
	if p.look.Plain {
		p.add(wrapped(strings.TrimSpace(label)+" "+sentence(text), p.look.Width)...)
		return
	}
	const indent = "    "
	words := strings.Fields(label + text)
	lines := paint.Wrap(indent, paint.Spans(words...), p.look.Width)
	for i, line := range lines {
		if i == 0 {
			line = line[len(indent)-2:]
		}
		p.add(line)
	}
}
