package follow

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"strandwise/chart"
	"strandwise/session"
)

type word struct {
	name    string
	letters string // short forms
	rest    string // what follows; "" when nothing does
	does    string
	run     func(State, string) (State, error)
}

func words() []word {
	return []word{
		{"next", "", "", "the ROW is knitted: log it and go on", alone(State.deliberately)},
		{"back", "b", "", "look back; nothing is changed", alone(State.back)},
		{"moved", "", "a+1", "catch a made one stitch later than planned; lists and repeats as for strandwise knit, of a ROW looked back at too", telling(func(o *session.Otherwise) *string { return &o.Moved })},
		{"missed", "", "b", "planned and not made", telling(func(o *session.Otherwise) *string { return &o.Missed })},
		{"extra", "", "22", "made and not planned, by its stitch", telling(func(o *session.Otherwise) *string { return &o.Extra })},
		{"planned", "", "", "all catches of this ROW as planned again", alone(State.asPlanned)},
		{"undo", "u", "", "undo what was logged last", alone(State.undo)},
		{"redo", "", "", "redo what was undone last", alone(State.redo)},
		{"note", "n", "TEXT", "keep a note on this ROW", State.tellNote},
		{"motion", "m", "", "the motions of this ROW in full", alone(State.motions)},
		{"show", "", "", "this ROW again, and what other terminals have logged", alone(State.reload)},
		{"words", "?", "", "this list", alone(State.keys)},
		{"quit", "q", "", "leave; your place is kept", alone(State.quit)},
	}
}

func alone(run func(State) State) func(State, string) (State, error) {
	return func(s State, _ string) (State, error) { return run(s), nil }
}

// WordError tells that a line begins with no word, or goes on otherwise than it allows.
type WordError struct {
	What string
	Try  string // what to write instead
}

func (e *WordError) Error() string { return e.What }

// Hear takes a line of words, however soon after the one before; an empty line is Enter, pressed. Errors
// are a *WordError and those of session.Piece.Otherwise; then nothing has changed.
func (s State) Hear(text string, now time.Time) (State, error) {
	next := s.at(now)
	next.clock = s.clock.heard(now)
	next.mode, next.said = knitting, Saying{}
	name, rest, _ := strings.Cut(strings.Join(strings.Fields(text), " "), " ")
	if name == "" {
		return next.forward(), nil
	}
	w, err := wordFor(name, rest)
	if err == nil {
		next, err = w.run(next, rest)
	}
	if err != nil {
		return s, err
	}
	return next, nil
}

// wordFor is the word of a name, with what follows it.
func wordFor(name, rest string) (word, error) {
	var names []string
	for _, w := range words() {
		switch {
		case name != w.name && name != w.letters:
			names = append(names, w.name)
			continue
		case w.rest == "" && rest != "":
			return w, &WordError{fmt.Sprintf("%s stands alone, not with %q", w.name, rest), w.name}
		case w.rest != "" && rest == "":
			return w, &WordError{w.name + " needs something after it", w.name + " " + w.rest}
		}
		return w, nil
	}
	try := cmp.Or(chart.Nearest(name, names), "words, which lists them")
	return word{}, &WordError{fmt.Sprintf("%q is no word of follow", name), try}
}

func (s State) deliberately() State {
	s.armed, s.pressed = time.Time{}, time.Time{}
	return s.forward()
}

// telling adds a list to what was otherwise in the row to work; of a row looked back at it is
// logged at once.
func telling(which func(*session.Otherwise) *string) func(State, string) (State, error) {
	return func(s State, list string) (State, error) {
		switch {
		case s.looking():
			o := session.Otherwise{}
			*which(&o) = list
			e, err := s.piece.Corrected(s.row, o)
			if err != nil {
				return s, err
			}
			return s.log(e), nil
		case s.ended():
			return s, &WordError{s.endWords(), "undo"}
		}
		_, o := s.Pending()
		to := which(&o)
		*to = strings.TrimPrefix(*to+","+list, ",")
		changes, err := s.piece.Otherwise(o)
		if err != nil {
			return s, err
		}
		return s.changedTo(asTold(s.piece.Shown(s.toWork()), changes)).show(s.toWork()), nil
	}
}

func (s State) tellNote(text string) (State, error) {
	text = printable(text)
	if text == "" || len(text) > longestNote {
		return s, &WordError{fmt.Sprintf("a note takes 1 to %d bytes of text", longestNote), "note slack at the start"}
	}
	return s.log(s.noteOf(text)), nil
}
