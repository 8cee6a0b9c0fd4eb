package cmd

import (
	"bufio"
	"errors"
	"fmt"
	"strings"

	"strandwise/cmd/follow"
	"strandwise/cmd/frame"
)

// followLines tells a wrong line at a terminal and reads on; elsewhere the first one ends the run,
// lest the rest log what was not meant.
func (f *follower) followLines() error {
	a := f.a
	f.strict = !a.Env.InTTY
	f.draw = func(whole bool) error {
		return f.tell(a.Display(), whole, func(line string) error {
			_, err := fmt.Fprintln(a.Out, line)
			return err
		})
	}
	if a.Env.InTTY {
		fmt.Fprintln(a.Err, "strandwise: waiting for words; the line words lists them, quit leaves")
	}
	if err := f.draw(true); err != nil {
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
		case <-f.a.Context().Done():
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
	if wrong := (*follow.WordError)(nil); errors.As(err, &wrong) {
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
