package cmd

import (
	"bufio"
	"errors"
	"fmt"
	"strings"

	"strandwise/cmd/follow"
	"strandwise/cmd/frame"
)

// followLines reads words, a line each. At a terminal a wrong line is told and the
// next one read; elsewhere the first one ends the run, lest the rest log what was
// not meant.
func (f *follower) followLines() error {
	a := f.a
	f.strict = !a.Env.InTTY
	told := []string{}
	f.draw = func(whole bool) error { return f.print(&told, whole) }
	f.ring = func() error { return nil }
	f.sleep = func() error { return nil }
	if a.Env.InTTY {
		fmt.Fprintln(a.Err, "strandwise: waiting for words; the line words lists them, quit leaves")
	}
	if err := f.draw(true); err != nil {
		return err
	}
	lines := f.lines()
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

// lines delivers the lines of the input and is closed at its end.
func (f *follower) lines() <-chan string {
	lines, over := make(chan string), f.a.Context().Done()
	go func() {
		defer close(lines)
		in := bufio.NewScanner(f.a.Env.In)
		for in.Scan() {
			select {
			case lines <- strings.TrimSpace(in.Text()):
			case <-over:
				return
			}
		}
	}()
	return lines
}

// hear takes line number n.
func (f *follower) hear(n int, line string) error {
	s, effects, err := f.s.Hear(line, f.a.Env.Now())
	if wrong := (*follow.WordError)(nil); errors.As(err, &wrong) {
		err = frame.Usage("%v", err).Hint("%s", wrong.Try).Because(err)
	}
	if err == nil {
		err = f.answer(s, effects)
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

// print tells what the last line did, and the row where it is another than was told
// last.
func (f *follower) print(last *[]string, whole bool) error {
	lines, matter := f.s.Told(f.a.Display(), *last, whole)
	*last = matter
	for _, line := range lines {
		if _, err := fmt.Fprintln(f.a.Out, line); err != nil {
			return err
		}
	}
	return f.a.Out.Flush()
}
