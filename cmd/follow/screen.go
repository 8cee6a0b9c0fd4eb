package follow

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"strandwise/cmd/document"
	"strandwise/cmd/paint"
)

// Screen is what a terminal is to show, no wider and no higher than there is room for.
type Screen struct {
	Lines       []string
	Top         int // lines really scrolled away; see State.Scrolled
	Typing      bool
	Row, Column int // of the cursor, from 0; only while Typing
}

// least is how many lines are kept for the body; two of the foot are kept even so.
const least = 3

// Screen lays the state out for a terminal of so many lines, as wide as the look says.
func (s State) Screen(look paint.Look, height int) Screen {
	foot, column := s.foot(look, true)
	body := s.body(look, height-len(foot))
	if len(body)+len(foot) <= height {
		foot, column = s.foot(look, false)
	}
	if above := len(foot) - max(2, height-least); above > 0 {
		foot = foot[above:]
	}
	room := max(0, height-len(foot))
	body, top := window(body, s.top, room, look)
	for len(body) < room {
		body = append(body, "")
	}
	// What is written stands above the last line, the keys that end it.
	return Screen{append(body, foot...)[:height], top, s.writing(), max(0, height-2), column}
}

// Scrolled takes back lines that were scrolled beyond the last, as Screen.Top tells.
func (s State) Scrolled(top int) State {
	s.top = top
	return s
}

// Told is what is to be told where nothing is drawn over: what the last key did, and the matter of
// the sitting where it is another than was told last, or where the whole is wanted.
func (s State) Told(look paint.Look, last []string, whole bool) (lines, matter []string) {
	lines, matter = written(s.sayings(true), look), s.matter(look)
	if whole || !slices.Equal(matter, last) {
		lines = append(lines, matter...)
	}
	return lines, matter
}

// matter is what the sitting is about now. While it stays the same it need not be told again.
func (s State) matter(look paint.Look) []string {
	d := s.document(look, room{})
	switch {
	case s.mode == noting:
		d.Blocks = []document.Block{line(document.Usual, "write the note; enter keeps it, escape drops it")}
	case s.sheet != nil && !s.looking() && s.o.By != ByRow && s.mode == knitting:
		d.Blocks = s.heardStretch()
	}
	return written(d, look)
}

// written is a document as lines; writing into memory does not fail. A word wider than a line is
// cut, as one in a note may be.
func written(d document.Document, look paint.Look) []string {
	for i, b := range d.Blocks {
		if said, is := b.(document.Line); is && !look.Plain {
			said.Text = fitting(said.Text, look.Width-paint.Width(said.Label)-said.Indent)
			d.Blocks[i] = said
		}
	}
	var b bytes.Buffer
	if err := document.Write(&b, d, look); err != nil {
		panic("follow: writing into memory failed: " + err.Error())
	}
	text := strings.TrimSuffix(b.String(), "\n")
	if text == "" {
		return nil
	}
	return strings.Split(text, "\n")
}

func fitting(text document.Text, width int) document.Text {
	fit := slices.Clone(text)
	for i := range fit {
		words := strings.Split(fit[i].Text, " ")
		for j := range words {
			words[j] = cut(words[j], width)
		}
		fit[i].Text = strings.Join(words, " ")
	}
	return fit
}

func window(lines []string, top, room int, look paint.Look) ([]string, int) {
	if len(lines) <= room {
		return lines, 0
	}
	top = min(top, len(lines)-room)
	shown := append([]string(nil), lines[top:top+room]...)
	if below := len(lines) - top - room; below > 0 && room > 1 {
		shown[room-1] = look.Paint.Quiet(cut(fmt.Sprintf("(%d more lines: down)", below+1), look.Width))
	}
	return shown, top
}

func cut(text string, width int) string {
	for paint.Width(text) > width {
		runes := []rune(text)
		text = string(runes[:len(runes)-1])
	}
	return text
}

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
	before := s.line.before
	for paint.Width(before) > room {
		_, first := utf8.DecodeRuneInString(before)
		before = before[first:]
	}
	written := look.Paint.Strong(label) + before + cut(s.line.after, room-paint.Width(before))
	return append(lines, written, look.Paint.Quiet(cut(keys, look.Width))), len(label) + paint.Width(before)
}
