package follow

import (
	"fmt"
	"strings"
	"time"

	"strandwise/chart"
	"strandwise/session"
)

// word is what a line may begin with where words are read instead of keys.
type word struct {
	name    string
	letters string // short forms
	rest    string // what follows; "" when nothing does
	does    string
	run     func(State, string, time.Time) (State, []Effect, error)
}

// words returns the table of all words, in the order in which they are listed.
func words() []word {
	return []word{
		{"next", "", "", "the ROW is knitted: log it and go on", alone(State.deliberately)},
		{"back", "b", "", "look back; nothing is changed", alone(State.back)},
		{"moved", "", "a+1", "catch a made one stitch later than planned; lists and repeats as for strandwise knit, of a ROW looked back at too", State.tellMoved},
		{"missed", "", "b", "planned and not made", State.tellMissed},
		{"extra", "", "22", "made and not planned, by its stitch", State.tellExtra},
		{"planned", "", "", "all catches of this ROW as planned again", alone(State.asPlanned)},
		{"undo", "u", "", "undo what was logged last", alone(State.undoOnce)},
		{"redo", "", "", "redo what was undone last", alone(State.redoOnce)},
		{"note", "n", "TEXT", "keep a note on this ROW", State.tellNote},
		{"motion", "m", "", "the motions of this ROW in full", alone(State.motions)},
		{"show", "", "", "this ROW again, and what other terminals have logged", alone(State.reload)},
		{"words", "?", "", "this list", alone(State.keys)},
		{"quit", "q", "", "leave; your place is kept", alone(State.quit)},
	}
}

// alone makes a word of a key's method.
func alone(run func(State, time.Time) (State, []Effect)) func(State, string, time.Time) (State, []Effect, error) {
	return func(s State, _ string, now time.Time) (State, []Effect, error) {
		s, effects := run(s, now)
		return s, effects, nil
	}
}

// WordError tells that a line begins with no word there is, or goes on otherwise
// than the word allows.
type WordError struct {
	What string
	Try  string // what to write instead
}

func (e *WordError) Error() string { return e.What }

// Hear takes a line of words. Words are meant as they are written, so no line counts
// as one too many soon after the one before; an empty line is Enter, pressed. Errors
// are a *WordError and those of session.Piece.Made; then nothing has changed.
func (s State) Hear(text string, now time.Time) (State, []Effect, error) {
	before := s
	s.clock = s.clock.heard(now)
	s.mode, s.said = knitting, Saying{}
	fields := strings.Fields(text)
	if len(fields) == 0 {
		s, effects := s.forward(now)
		return s, effects, nil
	}
	rest := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), fields[0]))
	w, err := wordNamed(fields[0])
	if err == nil {
		err = w.accepts(rest)
	}
	if err != nil {
		return before, nil, err
	}
	next, effects, err := w.run(s, rest, now)
	if err != nil {
		return before, nil, err
	}
	return next, effects, nil
}

func wordNamed(name string) (word, error) {
	var names []string
	for _, w := range words() {
		if name == w.name || name == w.letters {
			return w, nil
		}
		names = append(names, w.name)
	}
	try := chart.Nearest(name, names)
	if try == "" {
		try = "words, which lists them"
	}
	return word{}, &WordError{fmt.Sprintf("%q is no word of follow", name), try}
}

// accepts reports why a word cannot be followed by the rest of its line.
func (w word) accepts(rest string) error {
	switch {
	case w.rest == "" && rest != "":
		return &WordError{fmt.Sprintf("%s stands alone, not with %q", w.name, rest), w.name}
	case w.rest != "" && rest == "":
		return &WordError{w.name + " needs something after it", w.name + " " + w.rest}
	}
	return nil
}

// deliberately goes on without regard to how soon.
func (s State) deliberately(now time.Time) (State, []Effect) {
	s.armed, s.pressed = time.Time{}, time.Time{}
	return s.forward(now)
}

func (s State) undoOnce(now time.Time) (State, []Effect) {
	s.undone = time.Time{}
	return s.undo(now)
}

func (s State) redoOnce(now time.Time) (State, []Effect) {
	s.undone = time.Time{}
	return s.redo(now)
}

func (s State) tellMoved(list string, _ time.Time) (State, []Effect, error) {
	return s.tell(func(o *session.Otherwise) *string { return &o.Moved }, list)
}

func (s State) tellMissed(list string, _ time.Time) (State, []Effect, error) {
	return s.tell(func(o *session.Otherwise) *string { return &o.Missed }, list)
}

func (s State) tellExtra(list string, _ time.Time) (State, []Effect, error) {
	return s.tell(func(o *session.Otherwise) *string { return &o.Extra }, list)
}

// tell adds a list to what was otherwise in the row to work; of a row looked back at it is
// logged at once.
func (s State) tell(which func(*session.Otherwise) *string, list string) (State, []Effect, error) {
	switch {
	case s.looking():
		o := session.Otherwise{}
		*which(&o) = list
		e, err := s.piece.Corrected(s.row, o)
		if err != nil {
			return s, nil, err
		}
		s, effects := s.log(e)
		return s, effects, nil
	case s.ended():
		return s, nil, &WordError{s.endWords(), "undo"}
	}
	o := s.otherwise
	if to := which(&o); *to == "" {
		*to = list
	} else {
		*to += "," + list
	}
	changes, err := s.piece.Otherwise(o)
	if err != nil {
		return s, nil, err
	}
	s = s.changedTo(asTold(s.piece.Shown(s.toWork()), changes))
	s.otherwise = o
	return s.show(s.toWork()), []Effect{Draw{}}, nil
}

func (s State) tellNote(text string, _ time.Time) (State, []Effect, error) {
	text = printable(text)
	if text == "" || len(text) > longestNote {
		return s, nil, &WordError{fmt.Sprintf("a note takes 1 to %d bytes of text", longestNote), "note slack at the start"}
	}
	s, effects := s.log(s.noteOf(text))
	return s, effects, nil
}
