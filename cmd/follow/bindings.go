package follow

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"strandwise/chart"
	"strandwise/session"
)

type binding struct {
	keys  []Key
	label string // the keys as the list of keys names them
	brief string // the same for the line at the foot of the screen; "" leaves it out there
	does  string
	short string // what it does, at the foot and on a button
	own   bool   // it is about the screen of a terminal, or what a page has its own means for
	run   func(State) State
}

func on(chars string, names ...Name) []Key {
	var keys []Key
	for _, n := range names {
		keys = append(keys, Key{Name: n})
	}
	for _, c := range chars {
		keys = append(keys, Char(string(c)))
	}
	return keys
}

// bindings returns the table of all keys, mode by mode, in the order in which they
// are listed. While something is written keys go to its line instead.
func bindings(m mode) []binding {
	switch m {
	case choosing:
		return []binding{
			{on("", Right, Down), "right, down", "arrows", "the next catch", "choose", true, choosingBy(1)},
			{on("", Left, Up), "left, up", "", "the catch before", "", true, choosingBy(-1)},
			{on("l+"), "l, +", "l", "it was made a stitch later", "later", false, ofCatch(shifted(1))},
			{on("e-"), "e, -", "e", "it was made a stitch earlier", "earlier", false, ofCatch(shifted(-1))},
			{on("m"), "m", "m", "it was missed; again, it was made after all", "missed", false, ofCatch(State.missed)},
			{on("x"), "x", "x", "an extra catch was made; later and earlier move it", "extra", false, State.extra},
			{on("r"), "r", "r", "in which repeats: all, or one after the other", "repeats", true, ofCatch(State.nextRepeat)},
			{on("0"), "0", "", "in every repeat that has it", "", false, ofCatch(func(s State, f family) State { return s.inRepeat(0, f) })},
			{on("", Home), "home", "", "in the first repeat that has it; a digit: in that one", "", false, ofCatch(func(s State, f family) State { return s.inRepeat(slices.Min(f.repeats), f) })},
			{on("", End), "end", "", "in the last repeat that has it", "", false, ofCatch(func(s State, f family) State { return s.inRepeat(slices.Max(f.repeats), f) })},
			{on("p"), "p", "", "all as planned again", "", false, State.asPlanned},
			{on("u"), "u", "u", "take the last change back", "take back", false, State.takeBack},
			{on("?"), "?", "?", "this list", "keys", true, State.keys},
			{on(" c", Enter, Escape, PageDown, PageUp, Backspace), "enter, space, escape", "enter", "back to the ROW; its catches are logged with it, those of a ROW below at once", "done", false, State.chosen},
		}
	case motions, keys:
		return []binding{
			{on("", Up), "up", "", "scroll up", "", true, scrolledBy(-1)},
			{on("", Down), "down", "down", "scroll down", "more", true, scrolledBy(1)},
			{on(" q?m", Enter, Escape, Left, Right, PageDown, PageUp, Backspace), "any other key", "space", "back to the ROW", "back", true, State.shut},
		}
	}
	return []binding{
		{on(" ", Enter, Right, PageDown), "space, enter, right, page down", "space", "the ROW is knitted: log it and go on", "next", false, State.forward},
		{on("", End), "end", "", "the whole ROW is knitted, also where a press moves on by less", wholeDone, false, State.rowDone},
		{on("", Left, PageUp, Backspace), "left, page up, backspace", "left", "look back; nothing is changed", "look back", false, State.back},
		{on("c"), "c", "c", "a catch was made otherwise, also in a ROW looked back at: choose it, then say how", "catch", false, State.choose},
		{on("u"), "u", "u", "undo what was logged last", "undo", false, once(State.undo)},
		{on("U"), "U", "", "redo what was undone last", "", false, once(State.redo)},
		{on("n"), "n", "n", "write a note on this ROW", "note", true, State.note},
		{on("m"), "m", "m", "the motions of this ROW in full", "motion", true, State.motions},
		{on("", Up), "up", "", "scroll up", "", true, scrolledBy(-1)},
		{on("", Down), "down", "", "scroll down", "", true, scrolledBy(1)},
		{on("r", Refresh), "r", "", "draw the screen anew and see what other terminals have logged", "", true, State.reload},
		{on("?"), "?", "?", "this list", "keys", true, State.keys},
		{on("q"), "q", "q", "leave; your place is kept", "leave", true, State.quit},
	}
}

const wholeDone = "row done"

// offered are the keys that do something now; more of them where there is more to scroll to.
func (s State) offered(more bool) []binding {
	within := !s.looking() && !s.ended()
	var offered []binding
	for _, b := range bindings(s.mode) {
		switch {
		case b.short == "more" && !more:
			continue
		case s.mode == choosing && len(s.catches) == 0 && b.short != "extra" && b.short != "done":
			continue
		case s.mode != knitting:
		case b.short == wholeDone && (!within || s.o.By == ByRow):
			continue
		case within:
		case b.short == "next" && s.looking():
			b.short = "go on"
		case b.short == "next", b.short == "catch" && !s.looking():
			continue
		case b.short == "catch":
			b.short = "correct"
		}
		offered = append(offered, b)
	}
	return offered
}

// Offer is a key that does something now.
type Offer struct {
	Key   Key
	Label string // what it does in a word or two; empty where it has no button
	Main  bool   // it goes on
}

func (s State) offers() []Offer {
	var offers []Offer
	for _, b := range s.offered(false) {
		label, first := b.short, len(offers)
		if b.short == "next" {
			label = string(s.o.By) + " done"
		}
		if b.own {
			continue
		}
		for _, k := range b.keys {
			offers = append(offers, Offer{Key: k})
		}
		offers[first].Label, offers[first].Main = strings.Replace(label, "row", s.Word(), 1), slices.Contains(onward, b.short)
	}
	return offers
}

var onward = []string{"next", "go on", "done"}

// Press takes a key.
func (s State) Press(k Key, now time.Time) State {
	s = s.at(now)
	s.clock = s.clock.heard(now)
	return s.take(k)
}

func (s State) take(k Key) State {
	switch k.Name {
	case Interrupt:
		return s.leave(true)
	case Finish:
		return s.leave(false)
	case Suspend:
		s.effects = Effects{Sleep: true}
		return s
	}
	switch s.mode {
	case noting:
		return s.write(k)
	case asking:
		return s.answerPlace(k)
	}
	if digit := strings.Index("123456789", k.Text) + 1; s.mode == choosing && k.Name == Rune && digit > 0 {
		return ofCatch(func(s State, f family) State { return s.inRepeat(digit, f) })(s)
	}
	for _, b := range bindings(s.mode) {
		if slices.Contains(b.keys, k) {
			s.said = Saying{}
			return b.run(s)
		}
	}
	switch {
	case s.mode == motions || s.mode == keys:
		return s.shut()
	case k.Name == Paste || k.Name == Rune: // text is told of, lest it seem to have done something
		return s.warn("that key does nothing here; ? lists the keys")
	}
	s.effects = Effects{}
	return s
}

// Choose chooses a catch by its place among those of the row, from 0, and the repeat meant, from 1; 0
// is every one that has it. It does nothing where no catch is chosen, or there is none such.
func (s State) Choose(at, repeat int, now time.Time) State {
	s = s.at(now)
	if families := s.families(); s.mode == choosing && at >= 0 && at < len(families) {
		s.pick.at = at
		s = s.inRepeat(repeat, families[at])
	}
	return s
}

// Tap takes a key that is offered, by its value, and no other.
func (s State) Tap(value string, now time.Time) State {
	for _, o := range s.offers() {
		if o.Key.Value() == value {
			return s.Press(o.Key, now)
		}
	}
	s.effects = Effects{}
	return s
}

// Note keeps a note on the row on the screen.
func (s State) Note(text string, now time.Time) State {
	s, err := s.at(now).tellNote(text)
	if err != nil {
		return s.warn("%v", err)
	}
	return s
}

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
