package follow

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

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
