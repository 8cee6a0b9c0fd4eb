package cmd

import (
	"slices"
	"strings"

	"strandwise/cmd/follow"
	"strandwise/cmd/frame"
	"strandwise/cmd/paint"
	"strandwise/cmd/stored"
	"strandwise/session"
)

// follower carries out what the sit-down mode asks for. The store is open only while an event is
// logged or the piece is read.
type follower struct {
	a    *frame.App
	s    follow.State
	quit *follow.Quit

	// How what the machine asks for reaches the knitter; nil where it does not.
	draw  func(whole bool) error
	ring  func() error
	sleep func() error
	told  []string // the matter told last, where nothing is drawn

	pressed string // the number of the press on a page that is carried out; empty at a terminal

	strict bool // an error ends the sitting, as nobody reads what is said
}

func (f *follower) carryOut(e follow.Effects) error {
	for _, step := range []struct {
		asked bool
		do    func() error
	}{
		{e.Sleep && f.sleep != nil, f.sleep},
		{e.Log != nil, func() error { return f.log(*e.Log) }},
		{e.Reload, f.reload},
		{e.Draw && f.draw != nil, func() error { return f.draw(e.Whole) }},
		{e.Ring && f.ring != nil, f.ring},
	} {
		if !step.asked {
			continue
		}
		if err := step.do(); err != nil {
			return err
		}
	}
	if e.Quit != nil {
		f.quit = e.Quit
	}
	return nil
}

// log is finished even when the sitting is being ended from outside.
func (f *follower) log(e follow.Log) error {
	return f.a.Uninterrupted(func() error {
		p, err := stored.Change(f.a, func(p *stored.Piece) ([]session.Event, error) {
			if p.State.LastSeq != e.After {
				return nil, frame.Refused("another terminal has logged something since: look at the row again, nothing was logged").
					Hint("strandwise history")
			}
			return f.numbered(e.Events), nil
		})
		if err != nil {
			return f.refused(err)
		}
		return f.answer(f.s.Logged(p.Piece, f.a.Env.Now()))
	})
}

func (f *follower) numbered(events []session.Event) []session.Event {
	if f.pressed == "" {
		return events
	}
	last := len(events) - 1
	return append(slices.Clone(events[:last]), &session.Pressed{Event: events[last], Press: f.pressed})
}

// refused tells the machine that something was not logged, or may not be, and what
// the piece is like. Faults of our own end the sitting.
func (f *follower) refused(err error) error {
	problem := frame.Describe(err)
	if f.strict || problem.Exit == frame.ExitBug {
		return err
	}
	why := problem.What
	if problem.Exit.SavedNothing() && !strings.Contains(why, "nothing was") {
		why += "; nothing was saved"
	}
	var piece *session.Piece
	if p, err := stored.Take(f.a); err == nil {
		piece = p.Piece
	}
	return f.answer(f.s.Refused(why, piece, f.a.Env.Now()))
}

func (f *follower) reload() error {
	if err := f.Reload(); err != nil {
		return f.refused(err)
	}
	return nil
}

func (f *follower) answer(s follow.State) error {
	f.s = s
	return f.carryOut(s.Effects())
}

func (f *follower) hangup() error { return f.answer(f.s.Hangup()) }

// tell hands on, line by line, what is new: what was done, and the row where it is another than was
// told last, or all of it.
func (f *follower) tell(look paint.Look, whole bool, line func(string) error) error {
	var lines []string
	lines, f.told = f.s.Told(look, f.told, whole)
	for _, l := range lines {
		if err := line(l); err != nil {
			return err
		}
	}
	return f.a.Out.Flush()
}

// delivered delivers what next gives, until it gives no more or the run is over; the channel is
// closed only when there is no more, so that the end of the run is not taken for that.
func delivered[T any](over <-chan struct{}, next func() (T, bool)) <-chan T {
	all := make(chan T)
	go func() {
		for one, more := next(); more; one, more = next() {
			select {
			case all <- one:
			case <-over:
				return
			}
		}
		close(all)
	}()
	return all
}

// ended is the error a sitting ends with: none when it was its own key or word.
func (f *follower) ended() error {
	if f.quit.Interrupted {
		return frame.ErrInterrupted
	}
	return nil
}
