package cmd

import (
	"context"
	"errors"
	"fmt"

	"strandwise/floats"
)

// problem is an error as the knitter sees it.
type problem struct {
	exit  exit
	what  string
	hints []string
}

// rule says how one kind of error is shown.
type rule struct {
	kind  string // the error or its type, for the tests
	match func(error) (problem, bool)
}

// rules is the table of all errors that come from below. The first row that fits
// counts. An error without a row is a fault of the program itself.
var rules = []rule{
	typed(exitBug, func(*crash) []string { return nil }),
	exactly(errInterrupted, exitInterrupted),
	exactly(context.Canceled, exitInterrupted),
	typed(exitInput, func(e *floats.ClashError) []string {
		return []string{fmt.Sprintf("give yarn %c one name and one colour in both charts, or another symbol in one of them", e.Symbol)}
	}),
	typed(exitInput, func(e *floats.PlainYarnError) []string {
		return []string{fmt.Sprintf("name a yarn of the charts, or add the line `yarn: %c NAME #RRGGBB` to one of them", e.Symbol)}
	}),
	exactly(floats.ErrNoChart, exitUsage, "name a chart file among the parts, as in strandwise cast-on hat band.chart@12"),
}

// typed makes the row for errors of type E anywhere in the chain. The headline is
// the text of the whole error; hints (may be nil) makes the lines below it.
func typed[E error](code exit, hints func(E) []string) rule {
	return rule{fmt.Sprintf("%T", *new(E)), func(err error) (problem, bool) {
		var e E
		if !errors.As(err, &e) {
			return problem{}, false
		}
		p := problem{exit: code, what: err.Error()}
		if hints != nil {
			p.hints = hints(e)
		}
		return p, true
	}}
}

// exactly makes the row for one error value anywhere in the chain.
func exactly(target error, code exit, hints ...string) rule {
	return rule{target.Error(), func(err error) (problem, bool) {
		return problem{code, err.Error(), hints}, errors.Is(err, target)
	}}
}

// describe finds how to show err. A fault that wraps a typed error is shown as
// the fault says: whoever wrapped it knew more.
func describe(err error) problem {
	var f *fault
	if errors.As(err, &f) {
		return problem{f.exit, err.Error(), f.hints}
	}
	for _, r := range rules {
		if p, ok := r.match(err); ok {
			return p
		}
	}
	return problem{exitBug, "an error nobody expected: " + err.Error(), nil}
}
