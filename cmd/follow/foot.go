package follow

import (
	"slices"
	"strings"

	"strandwise/cmd/document"
	"strandwise/cmd/paint"
)

// foot is the lines below, and the column of the cursor. More says that the body goes on below the screen.
func (s State) foot(look paint.Look, more bool) (lines []string, column int) {
	told := s.sayings(false)
	if s.mode == asking {
		told.Blocks = append(told.Blocks,
			line(document.Strong, "how far is %s %d? the stitches worked (12), or 12@3 in repeat 3", s.Word(), s.toWork()))
	}
	lines = written(told, look)
	switch s.mode {
	case noting:
		return s.typing(lines, look, "note: ", "enter keep it  escape drop it")
	case asking:
		return s.typing(lines, look, "worked: ", "enter leave  escape stay")
	}
	return append(lines, look.Paint.Quiet(hints(s.offered(more), look.Width))), 0
}

func (s State) writing() bool { return s.mode == noting || s.mode == asking }

func (s State) offered(more bool) []binding {
	within := !s.looking() && !s.ended()
	var offered []binding
	for _, b := range bindings(s.mode) {
		switch {
		case b.short == "more" && !more:
			continue
		case s.mode == choosing && len(s.catches) == 0 && b.short != "extra" && b.short != "done":
			continue
		case s.mode != knitting:
		case b.short == wholeDone && (!within || s.o.By == ByRow):
			continue
		case within:
		case b.short == "next" && s.looking():
			b.short = "go on"
		case b.short == "next", b.short == "catch" && !s.looking():
			continue
		case b.short == "catch":
			b.short = "correct"
		}
		offered = append(offered, b)
	}
	return offered
}

// mostChanges is how many changed catches are told one by one; of more only their number is.
const mostChanges = 3

// sayings is what the last key did, first or last, and all else to be said but the row itself.
func (s State) sayings(saidFirst bool) document.Document {
	var said, news []document.Block
	if s.said.Text != "" {
		said = append(said, line(map[bool]document.Tone{true: document.Warning, false: document.Strong}[s.said.Warn], "%s", s.said.Text))
	}
	tell := func(tone document.Tone, format string, args ...any) { news = append(news, line(tone, format, args...)) }
	if s.clock.due {
		tell(document.Warning, "%s", s.clock.words())
		tell(document.Strong, painWords)
	}
	yarns := s.piece.Layout.Fabric.Yarns
	for _, t := range s.tangles {
		tell(document.Strong, "%s", t.Untangle(yarns[t.A].Name, yarns[t.B].Name))
	}
	for _, gap := range s.gaps {
		tell(document.Warning, "too long: %s", gap)
	}
	if len(s.gaps) > 0 {
		tell(document.Strong, "%s", s.piece.Mended())
	}
	if s.mode == knitting || s.writing() {
		changed := s.changed()
		if n := len(changed); n > mostChanges {
			changed = nil
			tell(document.Strong, "%d catches will be logged with changes", n)
		}
		for _, words := range changed {
			tell(document.Strong, "will be logged: %s", words)
		}
	}
	if saidFirst {
		return document.Document{Blocks: append(said, news...)}
	}
	return document.Document{Blocks: append(news, said...)}
}

const between = "  "

// hints names keys as far as they fit: the first, the list and the last always, undo before others.
func hints(table []binding, width int) string {
	var all []string
	for _, b := range table {
		if b.brief != "" {
			all = append(all, b.brief+" "+b.short)
		}
	}
	for _, kept := range []string{"?u", "?"} {
		for i := len(all) - 2; i > 0 && paint.Width(strings.Join(all, between)) > width; i-- {
			if !strings.Contains(kept, all[i][:1]) {
				all = slices.Delete(all, i, i+1)
			}
		}
	}
	return cut(strings.Join(all, between), width)
}

func (s State) typing(lines []string, look paint.Look, label, keys string) ([]string, int) {
	room := max(1, look.Width-len(label)-1)
	before := string(s.line.text[:s.line.cursor])
	after := string(s.line.text[s.line.cursor:])
	for paint.Width(before) > room {
		runes := []rune(before)
		before = string(runes[1:])
	}
	written := look.Paint.Strong(label) + before + cut(after, room-paint.Width(before))
	return append(lines, written, look.Paint.Quiet(cut(keys, look.Width))), len(label) + paint.Width(before)
}
