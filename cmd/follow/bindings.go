package follow

import (
	"slices"
	"strings"
	"time"
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
