package frame

import (
	"cmp"
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
	typed(ExitRefused, says[*session.NotCastOnError]("strandwise cast-on NAME PART...")),
	typed(ExitRefused, says[*session.SameHoldError]("strandwise hold, which tells how the yarns are held", "strandwise motions, which lists the holds")),
	typed(ExitRefused, says[*session.AlreadyCastOnError]("strandwise pieces, which lists the names in use")),
	typed(ExitRefused, func(e *session.AlreadyRecordedError) []string { return []string{ToWork(e.Round)} }),
	typed(ExitRefused, func(e *session.NotYetError) []string {
		return []string{fmt.Sprintf("strandwise knit --to %d, if the %ss below it are knitted already", e.Row, session.RowWord(e.Round))}
	}),
	typed(ExitRefused, says[*session.FinishedError]("strandwise bind-off", "strandwise rip N")),
	typed(ExitRefused, says[*session.BoundOffError]("strandwise undo")),
	typed(ExitRefused, says[*session.TooManyRowsError](toFindOut)),
	typed(ExitRefused, says[*session.NothingBegunError](toFindOut)),
	typed(ExitRefused, says[*session.TooShortError]("more parts, or more repeats upward of the last")),
	typed(ExitRefused, func(e *session.DeviationError) []string {
		return []string{cmp.Or(e.Try, "strandwise show, for the catches as planned")}
	}),
	placeRule(),
	typed(ExitRefused, says[*session.AlreadyBegunError]("strandwise pause STITCH")),
	typed(ExitRefused, says[*session.NoSuchNoteError]("strandwise note, which lists the open ones")),
	typed(ExitRefused, func(e *session.CastOnStaysError) []string {
		return []string{"strandwise pieces remove " + InShell(e.Name)}
	}),
	typed(ExitRefused, says[*session.NotNewestError]("strandwise history")),
	typed(ExitRefused, says[*session.NothingToRedoError]("strandwise history")),
	typed(ExitRefused, says[*session.TooFewError]("strandwise history, which tells what was logged")),
	typed(ExitRefused, says[*session.NotDoneError](toFindOut)),

	typed(ExitUsage, func(e *session.ReadingError) []string { return e.Try }),

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

// placeRule makes the row for a place in the row that cannot be.
func placeRule() rule {
	r := typed(ExitRefused, func(e *session.PlaceError) []string { return []string{e.Try} })
	match := r.match
	r.match = func(err error) (Problem, bool) {
		p, ok := match(err)
		if e := (*session.PlaceError)(nil); errors.As(err, &e) && e.Wrong {
			p.Exit = ExitUsage
		}
		return p, ok
	}
	return r
}

// ToWork names the command that shows what is to be worked.
func ToWork(round bool) string {
	return fmt.Sprintf("strandwise show, for the %s to work now", session.RowWord(round))
}

// statuses gives each class of the store's errors its status.
var statuses = map[store.Class]Exit{
	store.ClassMissing:  ExitUnusable,
	store.ClassExists:   ExitRefused,
	store.ClassBusy:     ExitBusy,
	store.ClassUnusable: ExitUnusable,
	store.ClassDamaged:  ExitDamaged,
	store.ClassForeign:  ExitDamaged,
	store.ClassNewer:    ExitDamaged,
	store.ClassUnknown:  ExitUnknown,
	store.ClassBadInput: ExitInput,
	store.ClassConflict: ExitRefused,
	store.ClassChanged:  ExitRefused,
}

// Beginning is what to do where there is no store yet.
var Beginning = []string{"strandwise cast-on NAME PART..., as in strandwise cast-on hat example:lantern-band@6", "strandwise tour, to see how a piece goes"}

// ways are the commands that lead on from errors of the store.
var ways = map[store.Class][]string{
	store.ClassMissing: Beginning,
	store.ClassDamaged: {"strandwise store check, which tells how far the damage goes", "strandwise store salvage NEW-FILE, which gathers what is whole"},
	store.ClassForeign: {"--store PATH, if the store lies elsewhere"},
}

// ofStore makes the row for errors of the store, whose class decides.
func ofStore() rule {
	return rule{"*store.Error", func(err error) (Problem, bool) {
		var e *store.Error
		if !errors.As(err, &e) {
			return Problem{}, false
		}
		code, known := statuses[e.Class]
		if !known {
			code = ExitBug
		}
		hints := append(e.Hints(), ways[e.Class]...)
		what := err.Error()
		if !strings.Contains(what, e.Path) {
			what = e.Path + ": " + what // it was wrapped before the path was known
		}
		return Problem{code, what, hints}, true
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
