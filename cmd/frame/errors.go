package frame

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
	"strandwise/store"
)

type rule struct {
	kind  string // the error or its type, for the tests
	match func(error) (code Exit, hints []string, fits bool)
}

// rules are for all errors from below. The first that fits counts, so what wraps others stands
// above them. An error without a row is a fault of the program itself.
var rules = []rule{
	exactly(ErrInterrupted, ExitInterrupted),
	exactly(context.Canceled, ExitInterrupted),

	typed(func(e *store.Error) (Exit, []string) {
		class, known := classes[e.Class]
		if !known {
			class.exit = ExitBug
		}
		return class.exit, append(e.Hints(), class.hints...)
	}),
	exactly(store.ErrNoPiece, ExitRefused, "strandwise pieces, which lists them"),

	typed(func(e *session.EventError) (Exit, []string) {
		if _, newer := e.Err.(*session.NewerError); newer {
			return ExitDamaged, []string{"the newer version of strandwise that wrote it"}
		}
		return ExitDamaged, []string{"strandwise store check, then strandwise store restore"}
	}),
	says[*session.FieldError](ExitUsage),
	typed(func(e *session.RefusedError) (Exit, []string) {
		switch {
		case e.Unreadable:
			return ExitUsage, e.Try
		case e.Piece != "":
			return ExitRefused, []string{"strandwise pieces remove " + InShell(e.Piece)}
		}
		return ExitRefused, e.Try
	}),

	says[*chart.Faults](ExitInput, "mend the file, then strandwise chart check"),
	typed(func(e *floats.ClashError) (Exit, []string) {
		same := fmt.Sprintf("%c=%s %s", e.Symbol, e.First.Name, e.First.Color)
		return ExitInput, []string{
			fmt.Sprintf("strandwise chart turn FILE --yarn %s -o NEW-FILE, with the file of %s, if it is another yarn there",
				InShell(string(e.Symbol)+"=SYMBOL"), e.ThenPart),
			fmt.Sprintf("strandwise chart turn FILE --yarn %s -o NEW-FILE, if it is the same", InShell(same)),
		}
	}),
	typed(func(e *floats.LayError) (Exit, []string) { return ExitInput, []string{e.Try} }),
	typed(func(e *floats.FormatError) (Exit, []string) { return ExitUsage, []string{e.Want} }),
	says[*hold.CarryError](ExitUsage, "--carry parallel, or --hold one-at-a-time"),
	typed(func(e *hold.PlaceError) (Exit, []string) {
		return ExitUsage, []string{(&ChoiceError{e.Word, e.Choices}).Hint("%s, for the place", "")}
	}),
	says[*floats.TooLargeError](ExitUsage, "fewer repeats or times upward"),
	exactly(floats.ErrNoChart, ExitUsage, "name a chart file among the parts, as in strandwise cast-on hat band.chart@12"),
}

// Beginning is what to do where there is no store yet.
var Beginning = []string{"strandwise cast-on NAME PART..., as in strandwise cast-on hat example:lantern-band@6", "strandwise tour, to see how a piece goes"}

var classes = map[store.Class]struct {
	exit  Exit
	hints []string
}{
	store.ClassMissing:  {ExitUnusable, Beginning},
	store.ClassExists:   {ExitRefused, []string{"another name"}},
	store.ClassBusy:     {ExitBusy, []string{"try again; if it lasts, look for another window that is at work on this store"}},
	store.ClassUnusable: {ExitUnusable, nil},
	store.ClassDamaged: {ExitDamaged, []string{
		"strandwise store check, which tells how far the damage goes",
		"strandwise store salvage NEW-FILE, which gathers what is whole",
	}},
	store.ClassForeign:  {ExitDamaged, []string{"--store PATH, if the store lies elsewhere"}},
	store.ClassNewer:    {ExitDamaged, []string{"use the newer version of the program that wrote it"}},
	store.ClassUnknown:  {ExitUnknown, []string{"look whether it is there before doing it again"}},
	store.ClassBadInput: {ExitInput, []string{"export the store again and copy the file anew"}},
	store.ClassConflict: {ExitRefused, nil},
	store.ClassChanged:  {ExitRefused, []string{"the same command again, which compares anew"}},
}

// typed makes the row for errors of type E anywhere in the chain.
func typed[E error](shown func(E) (Exit, []string)) rule {
	return rule{fmt.Sprintf("%T", *new(E)), func(err error) (code Exit, hints []string, fits bool) {
		e, fits := errors.AsType[E](err)
		if fits {
			code, hints = shown(e)
		}
		return code, hints, fits
	}}
}

// says makes the row for errors of a type that are all shown alike.
func says[E error](code Exit, hints ...string) rule {
	return typed(func(E) (Exit, []string) { return code, hints })
}

// exactly makes the row for one error value anywhere in the chain.
func exactly(target error, code Exit, hints ...string) rule {
	return rule{target.Error(), func(err error) (Exit, []string, bool) { return code, hints, errors.Is(err, target) }}
}

// Describe finds how to show err: as a whole, with the status and hints of what is in the chain.
// A fault that wraps a typed error goes first: whoever wrapped it knew more.
func Describe(err error) *Fault {
	what := err.Error()
	if f, is := errors.AsType[*Fault](err); is {
		return &Fault{Exit: f.Exit, What: what, Hints: f.Hints}
	}
	if e, is := errors.AsType[*store.Error](err); is && !strings.Contains(what, e.Path) {
		what = e.Path + ": " + what // it was wrapped before the path was known
	}
	for _, r := range rules {
		if code, hints, fits := r.match(err); fits {
			return &Fault{Exit: code, What: what, Hints: hints}
		}
	}
	return &Fault{Exit: ExitBug, What: "a fault of the program itself: an error nobody expected"}
}

// Fault is an error as the knitter sees it. Commands make their own; Describe makes them of others.
type Fault struct {
	Exit  Exit     `json:"exit"`
	What  string   `json:"message"` // happened and where
	Hints []string `json:"hints"`   // what to do
	cause error
}

func (f *Fault) Error() string { return f.What }

func (f *Fault) Unwrap() error { return f.cause }

// Hint adds a line on what to do.
func (f *Fault) Hint(format string, args ...any) *Fault {
	f.Hints = append(f.Hints, fmt.Sprintf(format, args...))
	return f
}

// HintNear adds the choice that word most likely means in form, which has %s for it, else otherwise.
func (f *Fault) HintNear(word string, choices []string, form, otherwise string) *Fault {
	return f.Hint("%s", (&ChoiceError{word, choices}).Hint(form, otherwise))
}

// Because keeps the error behind it for errors.Is and errors.As.
func (f *Fault) Because(cause error) *Fault {
	f.cause = cause
	return f
}

// Refused makes the fault that the state of the piece does not allow the command.
func Refused(format string, args ...any) *Fault { return NewFault(ExitRefused, format, args...) }

// Usage makes the fault of a wrongly given command.
func Usage(format string, args ...any) *Fault { return NewFault(ExitUsage, format, args...) }

// BadInput makes the fault of a file that cannot be read as what it should be.
func BadInput(format string, args ...any) *Fault { return NewFault(ExitInput, format, args...) }

// Unusable makes the fault of a store or an output that cannot be used.
func Unusable(format string, args ...any) *Fault { return NewFault(ExitUnusable, format, args...) }

// NewFault makes the fault of a status of its own.
func NewFault(code Exit, format string, args ...any) *Fault {
	return &Fault{Exit: code, What: fmt.Sprintf(format, args...)}
}

// Reason is the system's word for why a file operation failed, without operation and path.
func Reason(err error) error {
	if path, is := errors.AsType[*fs.PathError](err); is {
		return path.Err
	}
	if link, is := errors.AsType[*os.LinkError](err); is {
		return link.Err
	}
	return err
}

// Exit is the status the process ends with.
type Exit int

// The statuses.
const (
	ExitDone        Exit = 0
	ExitRefused     Exit = 1
	ExitUsage       Exit = 2
	ExitInput       Exit = 3
	ExitBusy        Exit = 4
	ExitUnusable    Exit = 5
	ExitDamaged     Exit = 6
	ExitUnknown     Exit = 7
	ExitUnprinted   Exit = 8
	ExitBug         Exit = 70
	ExitInterrupted Exit = 130
)

// exits is the documented table: the word of each status in JSON, and its meaning.
var exits = map[Exit]struct{ word, meaning string }{
	ExitDone:        {"done", "done, and on disk"},
	ExitRefused:     {"refused", "refused by the state of the piece"},
	ExitUsage:       {"usage", "wrong usage"},
	ExitInput:       {"input", "bad input file"},
	ExitBusy:        {"busy", "store busy"},
	ExitUnusable:    {"unusable", "store or output cannot be used (missing, permission, space)"},
	ExitDamaged:     {"damaged", "store damaged, foreign or newer"},
	ExitUnknown:     {"unknown", "outcome unknown"},
	ExitUnprinted:   {"unprinted", "saved, answer not printed"},
	ExitBug:         {"bug", "a fault of the program itself"},
	ExitInterrupted: {"interrupted", "interrupted"},
}

// ExitLines is the table for help and the manual.
func ExitLines() []string {
	var lines []string
	for _, e := range slices.Sorted(maps.Keys(exits)) {
		lines = append(lines, fmt.Sprintf("%d: %s", e, exits[e].meaning))
	}
	return lines
}

// SavedNothing reports whether a command that ends with e promises that nothing was saved.
func (e Exit) SavedNothing() bool { return e >= ExitRefused && e <= ExitUnusable }
