package cmd

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"strandwise/cmd/follow"
	"strandwise/cmd/frame"
	"strandwise/cmd/paint"
)

// Codes of a terminal (ECMA-48; the second screen and pasting as common practice
// has them). Lines are cleared before they are written, since a terminal whose last
// column was just written may take the cursor to be still on it.
const (
	secondScreen = "\x1b[?1049h\x1b[?2004h"
	firstScreen  = "\x1b[?2004l\x1b[?1049l"
	hideCursor   = "\x1b[?25l"
	showCursor   = "\x1b[?25h"
	clearScreen  = "\x1b[H\x1b[2J"
	clearLine    = "\x1b[2K"
	bell         = "\a"
)

// defaultHeight is the lines assumed where nothing tells how many there are.
const defaultHeight = 24

// drawnTerminal is a terminal the knitter sits at. In a plain look, or on a terminal that
// cannot be drawn on, text is added below and nothing is drawn over.
type drawnTerminal struct {
	f       *follower
	restore func() error // nil while the terminal is as it was found
	redraws bool
	shown   []string // the lines on the screen
}

func newTerminal(f *follower) *drawnTerminal {
	kind := f.a.Env.Getenv("TERM")
	return &drawnTerminal{f: f, redraws: !f.a.Display().Plain && kind != "dumb" && kind != ""}
}

// enter takes the terminal over.
func (t *drawnTerminal) enter() error {
	restore, err := t.f.a.Env.Raw()
	if err != nil {
		return err
	}
	t.restore, t.shown, t.f.told = restore, nil, nil
	if t.redraws {
		return t.write(secondScreen + hideCursor)
	}
	return nil
}

// leave puts the terminal back as it was found. It goes past the output of the
// program, which may be closed already.
func (t *drawnTerminal) leave() {
	if t.restore == nil {
		return
	}
	if t.redraws {
		_, _ = io.WriteString(t.f.a.Env.Out, showCursor+firstScreen)
	}
	_ = t.restore()
	t.restore = nil
	t.f.a.Out.AsIs(false)
}

func (t *drawnTerminal) write(text string) error {
	if _, err := io.WriteString(t.f.a.Out.AsIs(true), text); err != nil {
		return err
	}
	return t.f.a.Out.Flush()
}

func (t *drawnTerminal) ring() error {
	if t.f.a.Display().Quiet {
		return nil
	}
	return t.write(bell)
}

// look is how things appear at the size the terminal has at this moment.
func (t *drawnTerminal) look() (paint.Look, int) {
	a := t.f.a
	look := a.Display()
	if width := a.Env.Width(); width > 0 && (a.Flags.Width == 0 || width < look.Width) {
		look.Width = width
	}
	return look, cmp.Or(a.Env.Height(), defaultHeight)
}

// draw shows the state, as far as it is not on the screen already unless whole is
// set.
func (t *drawnTerminal) draw(whole bool) error {
	if t.restore == nil {
		return nil // the terminal is somebody else's at the moment
	}
	look, height := t.look()
	if !t.redraws {
		return t.f.tell(look, whole, func(line string) error { return t.write(string(frame.Shown([]byte(line), true)) + "\r\n") })
	}
	screen := t.f.s.Screen(look, height)
	t.f.s = t.f.s.Scrolled(screen.Top)
	return t.write(t.frame(screen, whole))
}

// frame is what brings a screen up.
func (t *drawnTerminal) frame(screen follow.Screen, whole bool) string {
	var out strings.Builder
	out.WriteString(hideCursor)
	if whole || len(t.shown) != len(screen.Lines) {
		out.WriteString(clearScreen)
		t.shown = make([]string, len(screen.Lines))
	}
	for i, line := range screen.Lines {
		if line != t.shown[i] {
			fmt.Fprintf(&out, "\x1b[%d;1H%s%s", i+1, clearLine, frame.Shown([]byte(line), true))
		}
	}
	t.shown = screen.Lines
	if screen.Typing {
		fmt.Fprintf(&out, "\x1b[%d;%dH%s", screen.Row+1, screen.Column+1, showCursor)
	}
	return out.String()
}
