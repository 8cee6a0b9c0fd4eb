package frame

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
	"strandwise/store"
)

// Problem is an error as the knitter sees it.
type Problem struct {
	Exit  Exit
	What  string
	Hints []string
}

// rule says how one kind of error is shown.
type rule struct {
	kind  string // the error or its type, for the tests
	match func(error) (Problem, bool)
}

// rules is the table of all errors that come from below. The first row that fits
// counts, so what wraps others stands above them. An error without a row is a
// fault of the program itself.
var rules = []rule{
	typed(ExitBug, func(*crash) []string { return nil }),
	exactly(ErrInterrupted, ExitInterrupted),
	exactly(context.Canceled, ExitInterrupted),

	ofStore(),
	exactly(store.ErrNoPiece, ExitRefused, "strandwise pieces, which lists them"),

	typed(ExitDamaged, func(e *session.EventError) []string {
		if _, newer := e.Err.(*session.NewerError); newer {
			return []string{"the newer version of strandwise that wrote it"}
		}
		return []string{"strandwise store check, then strandwise store restore"}
	}),
	typed(ExitDamaged, says[*session.OrderError]("strandwise store check, then strandwise store restore")),
	typed(ExitUsage, says[*session.FieldError]()),
	refused(),

	typed(ExitInput, says[*chart.Faults]("mend the file, then strandwise chart check")),
	typed(ExitInput, func(e *floats.ClashError) []string {
		same := fmt.Sprintf("%c=%s %s", e.Symbol, e.First.Name, e.First.Color)
		return []string{
			fmt.Sprintf("strandwise chart turn FILE --yarn %s -o NEW-FILE, with the file of %s, if it is another yarn there",
				InShell(string(e.Symbol)+"=SYMBOL"), e.ThenPart),
			fmt.Sprintf("strandwise chart turn FILE --yarn %s -o NEW-FILE, if it is the same", InShell(same)),
		}
	}),
	typed(ExitInput, func(e *floats.LayError) []string { return []string{e.Try} }),
	typed(ExitUsage, func(e *floats.FormatError) []string { return []string{e.Want} }),
	typed(ExitUsage, says[*hold.CarryError]("--carry parallel, or --hold one-at-a-time")),
	typed(ExitUsage, func(e *hold.WordError) []string {
		return []string{choiceHint(e.Word, e.Choices, "%s, for the "+e.What)}
	}),
	typed(ExitUsage, says[*floats.TooLargeError]("fewer repeats or times upward")),
	exactly(floats.ErrNoChart, ExitUsage, "name a chart file among the parts, as in strandwise cast-on hat band.chart@12"),
}

// toFindOut is what to do before anything is ripped: a number offered might take out more
// than was meant.
const toFindOut = "strandwise resume, which says where you are"

// instead is what to do where something was refused, unless the refusal itself tells.
var instead = map[session.Refusal][]string{
	session.NotCastOn:     {"strandwise cast-on NAME PART..."},
	session.AlreadyCastOn: {"strandwise pieces, which lists the names in use"},
	session.AlreadyBegun:  {"strandwise pause STITCH"},
	session.AllWorked:     {"strandwise bind-off", "strandwise rip N"},
	session.IsBoundOff:    {"strandwise undo"},
	session.NotFinished:   {toFindOut},
	session.TooManyRows:   {toFindOut},
	session.NothingBegun:  {toFindOut},
	session.TooShort:      {"more parts, or more repeats upward of the last"},
	session.NoSuchNote:    {"strandwise note, which lists the open ones"},
	session.TooFewSteps:   {"strandwise history, which tells what was logged"},
	session.NotNewest:     {"strandwise history"},
	session.NothingToRedo: {"strandwise history"},
	session.SameHold:      {"strandwise hold, which tells how the yarns are held", "strandwise motions, which lists the holds"},
	session.NotAsSaid:     {"strandwise show, for the catches as planned"},
	session.NoSuchPlace:   {"strandwise show"},
}

// refused makes the row for what a piece refuses, whose reason decides.
func refused() rule {
	return rule{"*session.RefusedError", func(err error) (Problem, bool) {
		var e *session.RefusedError
		if !errors.As(err, &e) {
			return Problem{}, false
		}
		p := Problem{ExitRefused, err.Error(), e.Try}
		switch {
		case e.Why == session.Unreadable:
			p.Exit = ExitUsage
		case e.Why == session.CastOnStays:
			p.Hints = []string{"strandwise pieces remove " + InShell(e.Piece)}
		case len(p.Hints) == 0:
			p.Hints = instead[e.Why]
		}
		return p, true
	}}
}

// ToWork names the command that shows what is to be worked.
func ToWork(round bool) string {
	return fmt.Sprintf("strandwise show, for the %s to work now", session.RowWord(round))
}

// Beginning is what to do where there is no store yet.
var Beginning = []string{"strandwise cast-on NAME PART..., as in strandwise cast-on hat example:lantern-band@6", "strandwise tour, to see how a piece goes"}

// classes gives each class of the store's errors its status and what leads on from it.
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

// ofStore makes the row for errors of the store, whose class decides.
func ofStore() rule {
	return rule{"*store.Error", func(err error) (Problem, bool) {
		var e *store.Error
		if !errors.As(err, &e) {
			return Problem{}, false
		}
		class, known := classes[e.Class]
		if !known {
			class.exit = ExitBug
		}
		what := err.Error()
		if !strings.Contains(what, e.Path) {
			what = e.Path + ": " + what // it was wrapped before the path was known
		}
		return Problem{class.exit, what, append(e.Hints(), class.hints...)}, true
	}}
}

// says makes hints that are the same for every error of a type.
func says[E error](hints ...string) func(E) []string {
	return func(E) []string { return hints }
}

// typed makes the row for errors of type E anywhere in the chain. The headline is
// the text of the whole error; hints (may be nil) makes the lines below it.
func typed[E error](code Exit, hints func(E) []string) rule {
	return rule{fmt.Sprintf("%T", *new(E)), func(err error) (Problem, bool) {
		var e E
		if !errors.As(err, &e) {
			return Problem{}, false
		}
		p := Problem{Exit: code, What: err.Error()}
		if hints != nil {
			p.Hints = hints(e)
		}
		return p, true
	}}
}

// exactly makes the row for one error value anywhere in the chain.
func exactly(target error, code Exit, hints ...string) rule {
	return rule{target.Error(), func(err error) (Problem, bool) {
		return Problem{code, err.Error(), hints}, errors.Is(err, target)
	}}
}

// Describe finds how to show err. A fault that wraps a typed error is shown as
// the fault says: whoever wrapped it knew more.
func Describe(err error) Problem {
	var f *Fault
	if errors.As(err, &f) {
		return Problem{f.exit, err.Error(), f.hints}
	}
	for _, r := range rules {
		if p, ok := r.match(err); ok {
			return p
		}
	}
	return Problem{ExitBug, "a fault of the program itself: an error nobody expected", nil}
}
