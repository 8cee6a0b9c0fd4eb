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
	"strandwise/cmd/paint"
	"strandwise/cmd/stored"
)

// followKeys puts the terminal back on every way out.
func (f *follower) followKeys() error {
	a := f.a
	a.KeepsPlace.Store(true)
	t := newTerminal(f)
	heard, back := a.CaptureNotices()
	now := a.AtEnd(func() {
		t.leave()
		back()
	})
	defer now()
	f.draw, f.ring = t.draw, t.ring
	watch := a.Env.Watch()
	defer watch.End()
	f.sleep = func() error {
		t.leave()
		watch.Sleep()
		return f.wakeUp(t)
	}
	if err := t.enter(); err != nil {
		return frame.Unusable("the terminal cannot hand over single keys: %v", frame.Reason(err)).Hint("strandwise knit, row by row")
	}
	if err := t.draw(true); err != nil {
		return err
	}
	return f.sit(t, watch, heard)
}

// wakeUp goes on after the program was suspended; what happened to the piece meanwhile is looked up.
func (f *follower) wakeUp(t *drawnTerminal) error {
	if err := t.enter(); err != nil {
		return f.hangup()
	}
	return f.carryOut(follow.Effects{Reload: true, Draw: true, Whole: true})
}

func (f *follower) sit(t *drawnTerminal, watch frame.Watch, heard func() []string) error {
	reads := delivered(f.a.Context().Done(), func() ([]byte, bool) {
		b := make([]byte, 256)
		n, err := f.a.Env.In.Read(b)
		return b[:n], n > 0 || err == nil
	})
	var keys follow.Decoder
	store, err := stored.Store(f.a)
	if err != nil {
		return err
	}
	elsewhere := newWatched(store.Path())
	looks := time.NewTicker(looking)
	defer looks.Stop()
	for f.quit == nil {
		err := f.next(t, watch, reads, &keys, looks.C, elsewhere)
		if said := heard(); err == nil && len(said) > 0 {
			f.s = f.s.Overhear(said)
			err = f.draw(false)
		}
		if err != nil && f.a.Out.Failed() != nil {
			f.draw, f.ring = nil, nil // the terminal takes nothing any more
			err = f.hangup()
		}
		if err != nil {
			return err
		}
	}
	return f.ended()
}

func (f *follower) next(t *drawnTerminal, watch frame.Watch, reads <-chan []byte, keys *follow.Decoder, looks <-chan time.Time, elsewhere func() bool) error {
	if keys.Wait() > 0 {
		looks = nil // the rest of a key comes first
	}
	now := f.a.Env.Now
	select {
	case bytes, more := <-reads:
		if !more {
			return f.hangup()
		}
		return f.press(keys.Feed(bytes))
	case <-after(keys.Wait(), keys.Wait() > 0):
		return f.press(keys.Flush())
	case <-looks:
		return f.lookElsewhere(elsewhere)
	case <-f.reminder():
		return f.answer(f.s.Tick(now()))
	case h := <-watch.Happens:
		return f.happened(t, h)
	case <-f.a.Context().Done():
		return f.hangup()
	}
}

func (f *follower) lookElsewhere(elsewhere func() bool) error {
	if !elsewhere() {
		return nil
	}
	before := f.s.Piece().State.LastSeq
	if err := f.reload(); err != nil || f.s.Piece().State.LastSeq == before {
		return err
	}
	return f.draw(false)
}

func (f *follower) press(keys []follow.Key) error {
	for _, k := range keys {
		if f.quit != nil {
			return nil
		}
		if err := f.answer(f.s.Press(k, f.a.Env.Now())); err != nil {
			return err
		}
	}
	return nil
}

func (f *follower) happened(t *drawnTerminal, h os.Signal) error {
	switch h {
	case frame.ToSleep:
		return f.sleep()
	case frame.Continued:
		t.leave() // a shell may have changed the terminal: take it over anew
		return f.wakeUp(t)
	}
	return t.draw(true)
}

// after is a channel that tells when the time is over; never unless wanted.
func after(d time.Duration, wanted bool) <-chan time.Time {
	if !wanted {
		return nil
	}
	return time.After(max(0, d))
}

func (f *follower) reminder() <-chan time.Time {
	at, wanted := f.s.Wake()
	return after(at.Sub(f.a.Env.Now()), wanted)
}

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

const defaultHeight = 24

// drawnTerminal adds text below in a plain look, or where the terminal cannot be drawn on.
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

// leave goes past the output of the program, which may be closed already.
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
	width, height := a.Env.Size()
	if width > 0 && (a.Flags.Width == 0 || width < look.Width) {
		look.Width = width
	}
	return look, cmp.Or(height, defaultHeight)
}

// draw shows the state, as far as it is not on the screen already unless whole is set.
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
