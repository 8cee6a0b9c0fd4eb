package follow

import (
	"bytes"
	"fmt"
	"strings"

	"strandwise/cmd/document"
	"strandwise/cmd/paint"
)

// Screen is what a terminal is to show: lines, no wider and no more than there is
// room for, and the cursor where something is written.
type Screen struct {
	Lines       []string
	Top         int // lines really scrolled away; see State.Scrolled
	Typing      bool
	Row, Column int // of the cursor, from 0; only while Typing
}

// least is how many lines are kept for what the screen is about, however long the
// messages below it; two lines below are kept even so.
const least = 3

// Screen lays the state out for a terminal of so many lines, as wide as the look
// says. What is to be read first stands at the top; what the last key did and what
// keys there are, at the foot.
func (s State) Screen(look paint.Look, height int) Screen {
	foot, typing := s.foot(look, true)
	var body []string
	if s.sheet != nil && (s.mode == knitting || s.mode == noting || s.mode == asking) {
		body = s.laidOut(look, height-len(foot))
	} else {
		body = s.body(look)
	}
	if len(body)+len(foot) <= height {
		foot, typing = s.foot(look, false)
	}
	if above := len(foot) - max(2, height-least); above > 0 {
		foot, typing.row = foot[above:], typing.row-above
	}
	room := max(0, height-len(foot))
	body, top := window(body, s.top, room, look)
	for len(body) < room {
		body = append(body, "")
	}
	screen := Screen{Lines: append(body, foot...)[:height], Top: top}
	if (s.mode == noting || s.mode == asking) && typing.row >= 0 {
		screen.Typing, screen.Row, screen.Column = true, room+typing.row, typing.column
	}
	return screen
}

// Scrolled takes back lines that were scrolled beyond the last, as Screen.Top tells.
func (s State) Scrolled(top int) State {
	s.top = top
	return s
}

// window is what of the lines fits, from line top on, the rest told in the last line.
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

// cut shortens plain text to a width.
func cut(text string, width int) string {
	for paint.Width(text) > width {
		runes := []rune(text)
		text = string(runes[:len(runes)-1])
	}
	return text
}

// body is what the screen is about.
func (s State) body(look paint.Look) []string {
	p := &pad{look: look}
	switch {
	case s.mode == keys:
		s.keyList(p)
	case s.mode == motions:
		p.strong("%s %d: the motions in full", s.word(), s.row)
		s.tellMotions(p, true)
	case s.mode == choosing:
		s.choices(p)
	case s.sheet == nil:
		s.end(p)
	default:
		s.view(p)
	}
	return p.lines
}

// view is the row on the screen.
func (s State) view(p *pad) {
	switch {
	case s.looking():
		s.lookedAt(p)
	case s.o.By == ByRun:
		s.runView(p)
	case s.o.By == ByRepeat:
		s.repeatView(p)
	default:
		s.rowView(p)
	}
}

// pad gathers lines that fit the width.
type pad struct {
	look  paint.Look
	room  room
	lines []string
}

func (p *pad) add(lines ...string) { p.lines = append(p.lines, lines...) }

// text adds a text broken between words, each line in the style.
func (p *pad) text(style func(string) string, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if p.look.Plain {
		text = sentence(text)
	}
	for _, line := range wrapped(text, p.look.Width) {
		if style != nil {
			line = style(line)
		}
		p.add(line)
	}
}

func (p *pad) say(format string, args ...any)    { p.text(nil, format, args...) }
func (p *pad) quiet(format string, args ...any)  { p.text(p.look.Paint.Quiet, format, args...) }
func (p *pad) strong(format string, args ...any) { p.text(p.look.Paint.Strong, format, args...) }

// doc adds a document; writing into memory does not fail.
func (p *pad) doc(d document.Document) {
	var b bytes.Buffer
	if err := document.Write(&b, d, p.look); err != nil {
		panic("follow: writing into memory failed: " + err.Error())
	}
	if text := strings.TrimSuffix(b.String(), "\n"); text != "" {
		p.add(strings.Split(text, "\n")...)
	}
}

// wrapped breaks a text between words; words wider than the line are cut.
func wrapped(text string, width int) []string {
	words := strings.Fields(text)
	for i := range words {
		words[i] = cut(words[i], width)
	}
	return paint.Wrap("", paint.Spans(words...), width)
}
