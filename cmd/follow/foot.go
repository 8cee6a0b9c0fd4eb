package follow

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/cmd/paint"
)

// cursor is a place in the lines of the foot, from 0.
type cursor struct{ row, column int }

// foot is the lines below: the reminder, what the last key did, the note being
// written, the keys there are. More says that the body goes on below the screen.
func (s State) foot(look paint.Look, more bool) ([]string, cursor) {
	p := &pad{look: look}
	news := s.news()
	if s.said.Text != "" {
		news = append(news, s.said)
	}
	for _, n := range news {
		style := look.Paint.Strong
		if n.Warn {
			style = look.Paint.Warn
		}
		p.text(style, "%s", n.Text)
	}
	switch s.mode {
	case noting:
		return s.typing(p, "note: ", "enter keep it  escape drop it")
	case asking:
		p.strong("how far is %s %d? the stitches worked (12), or 12@3 in repeat 3", s.word(), s.toWork())
		return s.typing(p, "worked: ", "enter leave  escape stay")
	}
	p.add(look.Paint.Quiet(hints(s.offered(more), look.Width)))
	return p.lines, cursor{}
}

// offered is the keys to name at the foot: those that do something now.
func (s State) offered(more bool) []binding {
	table := bindings(s.mode)
	if !more {
		table = slices.DeleteFunc(slices.Clone(table), func(b binding) bool { return b.short == "more" })
	}
	if s.mode == choosing && len(s.change.catches) == 0 {
		return slices.DeleteFunc(slices.Clone(table), func(b binding) bool { return b.short != "extra" && b.short != "done" })
	}
	if s.mode != knitting || !s.looking() && !s.ended() {
		return table
	}
	var offered []binding
	for _, b := range table {
		switch {
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

// mostChanges is how many changed catches the foot names one by one.
const mostChanges = 3

// news is all that is neither the row itself nor what the last key did.
func (s State) news() []Saying {
	var news []Saying
	if s.clock.due {
		news = append(news, Saying{s.clock.words(), true}, Saying{painWords, false})
	}
	yarns := s.piece.Layout.Fabric.Yarns
	for _, t := range s.tangles {
		news = append(news, Saying{t.Untangle(yarns[t.A].Name, yarns[t.B].Name), false})
	}
	for _, gap := range s.gaps {
		news = append(news, Saying{"too long: " + gap, true})
	}
	if len(s.gaps) > 0 {
		news = append(news, Saying{s.piece.Mended(), false})
	}
	if s.mode == knitting || s.mode == noting || s.mode == asking {
		news = append(news, s.changes()...)
	}
	return news
}

// changes tells which catches will be logged otherwise than planned.
func (s State) changes() []Saying {
	changed := s.changed()
	if n := len(changed); n > mostChanges {
		return []Saying{{fmt.Sprintf("%d catches will be logged with changes", n), false}}
	}
	var news []Saying
	for _, line := range changed {
		news = append(news, Saying{"will be logged: " + line, false})
	}
	return news
}

// between stands between two hints.
const between = "  "

// hints names keys as far as they fit: the first, undo, the list of keys and the last one
// before all others.
func hints(table []binding, width int) string {
	var all, fit []string
	for _, b := range table {
		if b.brief != "" {
			all = append(all, b.brief+" "+b.short)
		}
	}
	wanted := func(i int) bool {
		return i == 0 || i == len(all)-1 || strings.HasPrefix(all[i], "?") || strings.HasPrefix(all[i], "u ")
	}
	room := width + len(between)
	for i, hint := range all {
		if wanted(i) {
			room -= paint.Width(hint) + len(between)
		}
	}
	for i, hint := range all {
		if !wanted(i) {
			if room < paint.Width(hint)+len(between) {
				continue
			}
			room -= paint.Width(hint) + len(between)
		}
		fit = append(fit, hint)
	}
	return cut(strings.Join(fit, between), width)
}

// typing adds the line being written, its end in view, and the keys that end it.
func (s State) typing(p *pad, label, keys string) ([]string, cursor) {
	room := max(1, p.look.Width-len(label)-1)
	before := string(s.line.text[:s.line.cursor])
	after := string(s.line.text[s.line.cursor:])
	for paint.Width(before) > room {
		runes := []rune(before)
		before = string(runes[1:])
	}
	at := cursor{len(p.lines), len(label) + paint.Width(before)}
	p.add(p.look.Paint.Strong(label) + before + cut(after, room-paint.Width(before)))
	p.add(p.look.Paint.Quiet(cut(keys, p.look.Width)))
	return p.lines, at
}
