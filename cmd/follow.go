package cmd

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"strandwise/cmd/document"
	"strandwise/cmd/follow"
	"strandwise/cmd/frame"
	"strandwise/cmd/paint"
	"strandwise/cmd/stored"
	"strandwise/session"
)

type followOptions struct {
	by         string
	page, home bool
	port       int
}

func newFollow(a *frame.App) *cobra.Command {
	o := &followOptions{by: string(follow.ByRow)}
	c := a.Leaf(frame.Spec{Use: "follow", Writes: true}, o.run)
	c.Flags().Var(frame.OneOf(&o.by, string(follow.ByRow), string(follow.ByRepeat), string(follow.ByRun)), "by", "what one press moves on by: `row|repeat|run`")
	c.Flags().BoolVar(&o.page, "page", false, "show it in a browser on this computer instead")
	c.Flags().BoolVar(&o.home, "home", false, "with --page: also to devices on the home network")
	c.Flags().IntVar(&o.port, "port", 0, "with --page: the `number` of the port; 0 is any free one")
	return c
}

func (o *followOptions) run(a *frame.App, _ []string) error {
	if !o.page && (o.home || o.port != 0) {
		return frame.Usage("--home and --port go with --page").Hint("strandwise follow --page")
	}
	if o.port < 0 || o.port > 65535 {
		return frame.Usage("--port %d: ports are numbered 1 to 65535", o.port).Hint("strandwise follow --page, at any free port")
	}
	p, err := stored.Take(a)
	if err != nil {
		return err
	}
	a.Sitting = uint64(p.ID)
	keys := a.Env.Raw != nil && a.Env.InTTY && a.Env.OutTTY // can be read and answered one by one
	options := follow.Options{
		By: follow.By(o.by), Pause: time.Duration(a.Settings.Number("pause")) * time.Minute, Page: o.page, Lines: !o.page && !keys,
	}
	f := newFollower(a, p, options)
	switch {
	case o.page:
		return followPage(a, o, options, fmt.Sprint(p.ID))
	case keys:
		err = followKeys(f)
	default:
		err = f.followLines()
	}
	if err == nil {
		sayWhere(a, f.s)
	}
	return err
}

func sayWhere(a *frame.App, s follow.State) {
	p := s.Piece()
	word := session.RowWord(!p.Layout.Fabric.Flat)
	did := fmt.Sprintf(": %d of %d %ss worked", p.State.Row, p.Rows(), word)
	if s.Rows() > 0 {
		did += fmt.Sprintf(", %d in this sitting", s.Rows())
	}
	next := "to go on: strandwise follow"
	if p.State.Begun > 0 {
		next += fmt.Sprintf(", in %s %d after stitch %d", word, p.State.Row+1, p.State.Begun)
	}
	if p.State.Next() == 0 && !p.State.BoundOff {
		next = "next: strandwise bind-off"
	}
	a.Did(document.Named(p.State.Setup.Name, did), "")
	if kept := s.Kept(); kept.Words != "" {
		a.Say(fmt.Sprintf("saved as note %d: %s", len(p.State.Notes), kept.Words),
			fmt.Sprintf("once the %s is knitted, strandwise knit %s logs it", word, kept.Flags))
	}
	a.Say("", next)
}

// follower carries out what the sit-down mode asks for. The store is open only while an event is
// logged or the piece is read.
type follower struct {
	a    *frame.App
	s    follow.State
	quit *follow.Quit

	// How what the machine asks for reaches the knitter.
	show    func(whole bool) error
	bell    func() error
	suspend func() error
	told    []string // the matter told last, where nothing is drawn

	pressed string // the number of the press on a page that is carried out; empty at a terminal

	strict bool // an error ends the sitting, as nobody reads what is said
}

// newFollower makes a follower of which nothing reaches the knitter yet.
func newFollower(a *frame.App, p *stored.Piece, o follow.Options) *follower {
	f := &follower{a: a, s: follow.New(p.Piece, o, a.Env.Now())}
	f.mute()
	return f
}

func (f *follower) mute() {
	nothing := func() error { return nil }
	f.show, f.bell, f.suspend = func(bool) error { return nil }, nothing, nothing
}

func (f *follower) carryOut(e follow.Effects) (err error) {
	do := func(asked bool, step func() error) {
		if asked && err == nil {
			err = step()
		}
	}
	do(e.Sleep, f.suspend)
	do(e.Log != nil, func() error { return f.log(e.Log) })
	do(e.Reload, f.reload)
	do(e.Draw, func() error { return f.show(e.Whole) })
	do(e.Ring, f.bell)
	if err == nil && e.Quit != nil {
		f.quit = e.Quit
	}
	return err
}

// log is finished even when the sitting is being ended from outside.
func (f *follower) log(events []session.Event) error {
	return f.a.Uninterrupted(func() error {
		p, err := stored.Change(f.a, func(p *stored.Piece) ([]session.Event, error) {
			if p.State.LastSeq != f.s.Piece().State.LastSeq {
				return nil, frame.Refused("another terminal has logged something since: look at the row again, nothing was logged").
					Hint("strandwise history")
			}
			if f.pressed == "" {
				return events, nil
			}
			last := len(events) - 1
			return append(slices.Clone(events[:last]), &session.Pressed{Event: events[last], Press: f.pressed}), nil
		})
		if err != nil {
			return f.refused(err)
		}
		return f.answer(f.s.Logged(p.Piece, f.a.Env.Now()))
	})
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

// Reload takes up what was logged elsewhere.
func (f *follower) Reload() error {
	p, err := stored.Take(f.a)
	if err == nil {
		f.s = f.s.Reloaded(p.Piece, f.a.Env.Now())
	}
	return err
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

// looking is how often the store is looked at for what others have logged: within a second each sees it.
const looking = 300 * time.Millisecond

// newWatched tells each time whether a file was written since the time before.
func newWatched(path string) func() bool {
	written := func() (at time.Time) {
		if info, err := os.Stat(path); err == nil {
			at = info.ModTime()
		}
		return at
	}
	last := written()
	return func() bool {
		was := last
		last = written()
		return !last.Equal(was)
	}
}

// ended is the error a sitting ends with: none when it was its own key or word.
func (f *follower) ended() error {
	if f.quit.Interrupted {
		return frame.ErrInterrupted
	}
	return nil
}

// followLines tells a wrong line at a terminal and reads on; elsewhere the first one ends the run,
// lest the rest log what was not meant.
func (f *follower) followLines() error {
	a := f.a
	f.strict = !a.Env.InTTY
	f.show = func(whole bool) error {
		return f.tell(a.Display(), whole, func(line string) error {
			_, err := fmt.Fprintln(a.Out, line)
			return err
		})
	}
	if a.Env.InTTY {
		fmt.Fprintln(a.Err, "strandwise: waiting for words; the line words lists them, quit leaves")
	}
	if err := f.show(true); err != nil {
		return err
	}
	in := bufio.NewScanner(a.Env.In)
	lines := delivered(a.Context().Done(), func() (string, bool) {
		more := in.Scan()
		return strings.TrimSpace(in.Text()), more
	})
	for n := 1; f.quit == nil; n++ {
		var err error
		select {
		case line, more := <-lines:
			if !more {
				err = f.answer(f.s.Press(follow.Key{Name: follow.Finish}, a.Env.Now()))
			} else if line != "" || a.Env.InTTY {
				err = f.hear(n, line)
			}
		case <-a.Context().Done():
			err = f.hangup()
		}
		if err != nil {
			return err
		}
	}
	return f.ended()
}

func (f *follower) hear(n int, line string) error {
	s, err := f.s.Hear(line, f.a.Env.Now())
	if wrong, is := errors.AsType[*follow.WordError](err); is {
		err = frame.Usage("%v", err).Hint("%s", wrong.Try).Because(err)
	}
	if err == nil {
		err = f.answer(s)
		if said := f.s.Said(); err == nil && said.Warn && f.strict && f.quit == nil {
			err = frame.Refused("%s", said.Text).Hint("strandwise show")
		}
	}
	switch {
	case err == nil:
		return nil
	case f.strict:
		return fmt.Errorf("line %d: %w", n, err)
	case frame.Describe(err).Exit == frame.ExitBug || errors.Is(err, f.a.Out.Failed()):
		return err
	}
	p := frame.Describe(err)
	fmt.Fprintf(f.a.Err, "strandwise: %s\n", p.What)
	f.a.Try(p.Hints...)
	return nil
}
