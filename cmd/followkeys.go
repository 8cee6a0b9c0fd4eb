package cmd

import (
	"time"

	"strandwise/cmd/follow"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

// followKeys sits at a terminal: single keys come in, screens go out. The terminal
// is put back on every way out.
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

// wakeUp goes on after the program was suspended, with the terminal as it was found. What happened
// to the piece in the meantime is looked up.
func (f *follower) wakeUp(t *drawnTerminal) error {
	if err := t.enter(); err != nil {
		return f.hangup()
	}
	return f.carryOut(follow.Effects{Reload: true, Draw: true, Whole: true})
}

// sit takes whatever comes next until the sitting ends.
func (f *follower) sit(t *drawnTerminal, watch frame.Watch, heard func() []string) error {
	reads := feed(f.a.Context().Done(), func() ([]byte, bool) {
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
			err = f.windowGone()
		}
		if err != nil {
			return err
		}
	}
	return f.ended()
}

// windowGone ends the sitting when the terminal takes nothing any more.
func (f *follower) windowGone() error {
	f.draw, f.ring = nil, nil
	return f.hangup()
}

// next waits for one thing to happen and deals with it.
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

// lookElsewhere shows what others have logged since it was looked for last.
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

func (f *follower) happened(t *drawnTerminal, h frame.Happening) error {
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

// reminder tells when the reminder to pause is due.
func (f *follower) reminder() <-chan time.Time {
	at, wanted := f.s.Wake()
	return after(at.Sub(f.a.Env.Now()), wanted)
}
