package cmd

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"strandwise/cmd/follow"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
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
	bellCode     = "\a"
)

const defaultHeight = 24

// drawnTerminal adds text below in a plain look, or where the terminal cannot be drawn on.
type drawnTerminal struct {
	*follower
	restore func() error // nil while the terminal is as it was found
	redraws bool
	shown   []string // the lines on the screen

	keys      follow.Decoder
	reads     <-chan []byte
	looks     <-chan time.Time
	elsewhere func() bool // whether something was logged elsewhere
	watch     frame.Watch
}

// followKeys puts the terminal back on every way out.
func followKeys(f *follower) error {
	a, kind := f.a, f.a.Env.Getenv("TERM")
	store, err := stored.Store(a)
	if err != nil {
		return err
	}
	a.KeepsPlace.Store(true)
	t := &drawnTerminal{
		follower: f, redraws: !a.Display().Plain && kind != "dumb" && kind != "",
		looks: time.Tick(looking), elsewhere: newWatched(store.Path()),
	}
	heard, back := a.CaptureNotices()
	now := a.AtEnd(func() {
		t.leave()
		back()
	})
	defer now()
	t.watch = a.Env.Watch()
	defer t.watch.End()
	f.show, f.bell, f.suspend = t.draw, t.ring, t.sleep
	if err := t.enter(); err != nil {
		return frame.Unusable("the terminal cannot hand over single keys: %v", frame.Reason(err)).Hint("strandwise knit, row by row")
	}
	if err := t.draw(true); err != nil {
		return err
	}
	t.reads = delivered(a.Context().Done(), func() ([]byte, bool) {
		b := make([]byte, 256)
		n, err := a.Env.In.Read(b)
		return b[:n], n > 0 || err == nil
	})
	for f.quit == nil {
		err := t.next()
		if said := heard(); err == nil && len(said) > 0 {
			f.s = f.s.Overhear(said)
			err = f.show(false)
		}
		if err != nil && a.Out.Failed() != nil {
			f.mute() // the terminal takes nothing any more
			err = f.hangup()
		}
		if err != nil {
			return err
		}
	}
	return f.ended()
}

func (t *drawnTerminal) next() error {
	looks := t.looks
	if t.keys.Wait() > 0 {
		looks = nil // the rest of a key comes first
	}
	now := t.a.Env.Now
	wake, reminded := t.s.Wake()
	select {
	case bytes, more := <-t.reads:
		if !more {
			return t.hangup()
		}
		return t.press(t.keys.Feed(bytes))
	case <-after(t.keys.Wait(), t.keys.Wait() > 0):
		return t.press(t.keys.Flush())
	case <-looks:
		return t.lookElsewhere()
	case <-after(wake.Sub(now()), reminded):
		return t.answer(t.s.Tick(now()))
	case h := <-t.watch.Happens:
		return t.happened(h)
	case <-t.a.Context().Done():
		return t.hangup()
	}
}

func (t *drawnTerminal) press(keys []follow.Key) error {
	for _, k := range keys {
		if t.quit != nil {
			return nil
		}
		if err := t.answer(t.s.Press(k, t.a.Env.Now())); err != nil {
			return err
		}
	}
	return nil
}

func (t *drawnTerminal) lookElsewhere() error {
	if !t.elsewhere() {
		return nil
	}
	before := t.s.Piece().State.LastSeq
	if err := t.reload(); err != nil || t.s.Piece().State.LastSeq == before {
		return err
	}
	return t.draw(false)
}

func (t *drawnTerminal) happened(h os.Signal) error {
	switch h {
	case frame.ToSleep:
		return t.sleep()
	case frame.Continued:
		t.leave() // a shell may have changed the terminal: take it over anew
		return t.wakeUp()
	}
	return t.draw(true)
}

func (t *drawnTerminal) sleep() error {
	t.leave()
	t.watch.Sleep()
	return t.wakeUp()
}

// wakeUp goes on after the program was suspended; what happened to the piece meanwhile is looked up.
func (t *drawnTerminal) wakeUp() error {
	if err := t.enter(); err != nil {
		return t.hangup()
	}
	return t.carryOut(follow.Effects{Reload: true, Draw: true, Whole: true})
}

// after is a channel that tells when the time is over; never unless wanted.
func after(d time.Duration, wanted bool) <-chan time.Time {
	if !wanted {
		return nil
	}
	return time.After(max(0, d))
}

func (t *drawnTerminal) enter() error {
	restore, err := t.a.Env.Raw()
	if err != nil {
		return err
	}
	t.restore, t.shown, t.told = restore, nil, nil
	if t.redraws {
		return t.write(secondScreen + hideCursor)
	}
	return nil
}

// leave goes past the output of the program, which may be closed already.
func (t *drawnTerminal) leave() {
	if t.restore == nil {
		return
	}
	if t.redraws {
		_, _ = io.WriteString(t.a.Env.Out, showCursor+firstScreen)
	}
	_ = t.restore()
	t.restore = nil
	t.a.Out.AsIs(false)
}

func (t *drawnTerminal) write(text string) error {
	if _, err := io.WriteString(t.a.Out.AsIs(true), text); err != nil {
		return err
	}
	return t.a.Out.Flush()
}

func (t *drawnTerminal) ring() error {
	if t.a.Display().Quiet {
		return nil
	}
	return t.write(bellCode)
}

// draw shows the state, as far as it is not on the screen already unless whole is set.
func (t *drawnTerminal) draw(whole bool) error {
	if t.restore == nil {
		return nil // the terminal is somebody else's at the moment
	}
	look := t.a.Display()
	width, height := t.a.Env.Size() // at this moment
	if width > 0 && (t.a.Flags.Width == 0 || width < look.Width) {
		look.Width = width
	}
	if !t.redraws {
		return t.tell(look, whole, func(line string) error { return t.write(string(frame.Shown([]byte(line), true)) + "\r\n") })
	}
	screen := t.s.Screen(look, cmp.Or(height, defaultHeight))
	t.s = t.s.Scrolled(screen.Top)
	return t.write(t.frame(screen, whole))
}

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
