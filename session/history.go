package session

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// Entry is one event of a log.
type Entry struct {
	Seq      uint64
	At       time.Time // for display only
	Event    Event
	Canceled bool // undone, or for an undoing redone: the event does not hold
}

// Kind says which event it is.
func (e Entry) Kind() Kind { return e.Event.Kind() }

// Log gives every event of the log in order, canceled ones too.
func (s *State) Log() []Entry { return s.entries }

// History gives the events that are told one by one: all but the heads of those that were
// logged together.
func (s *State) History() []Entry {
	return slices.DeleteFunc(slices.Clone(s.entries), func(e Entry) bool { return e.Kind() == KindTogether })
}

// Newest gives the newest event. The piece must be cast on.
func (s *State) Newest() Entry { return s.entries[len(s.entries)-1] }

// Entry finds an event by its number; ok is false when there is none.
func (s *State) Entry(seq uint64) (e Entry, ok bool) {
	i, found := slices.BinarySearchFunc(s.entries, seq, func(e Entry, seq uint64) int { return cmp.Compare(e.Seq, seq) })
	if !found {
		return Entry{}, false
	}
	return s.entries[i], true
}

// words is the line of an event of the log.
func (s *State) words(e Entry, planPeriods []planPeriod) string {
	line := e.Event.words(historyWords{s, planPeriods, e.Seq})
	if !e.Canceled {
		return line
	}
	if e.Kind() == KindUndone {
		return line + " (redone)"
	}
	return line + " (undone)"
}

// historyWords gives events the words that depend on the piece.
type historyWords struct {
	state       *State
	planPeriods []planPeriod
	seq         uint64 // number of the event told
}

// planPeriod is the one the event was logged in.
func (t historyWords) planPeriod() planPeriod {
	at := len(t.planPeriods) - 1
	for at > 0 && t.planPeriods[at].after >= t.seq {
		at--
	}
	return t.planPeriods[at]
}

// repeats gives the stitches of a repeat of a row and the number of repeats, as it was laid
// then; of a row that cannot be laid any more, all its stitches in one.
func (t historyWords) repeats(row int) (width, repeats int) {
	if f := t.planPeriod().fabric; f != nil && row <= len(f.Rows) {
		return f.Rows[row-1].RepeatStitches(), f.Rows[row-1].Repeats
	}
	return maxInt, 1
}

// row is what one pass is called: a row in flat work, a round in the round.
func (t historyWords) row() string { return t.state.rowWord() }

// yarn names a yarn by its index.
func (t historyWords) yarn(i int) string {
	if yarns := t.planPeriod().yarns(); i < len(yarns) {
		return yarns[i].Name
	}
	return fmt.Sprintf("yarn %d", i+1)
}

// symbol names a yarn by its symbol.
func (t historyWords) symbol(symbol rune) string {
	for _, y := range t.planPeriod().yarns() {
		if y.Symbol == symbol {
			return y.Name
		}
	}
	return fmt.Sprintf("yarn %c", symbol)
}

// dominant names what is dominant: a word stays, a symbol becomes a name.
func (t historyWords) dominant(word string) string {
	if runes := []rune(word); len(runes) == 1 {
		return t.symbol(runes[0])
	}
	return word
}

// quoted is the line of another event of the log.
func (t historyWords) quoted(seq uint64) string {
	t.seq = seq
	if e, ok := t.state.Entry(seq); ok {
		return fmt.Sprintf("event %d (%s)", seq, e.Event.words(t))
	}
	return fmt.Sprintf("event %d", seq)
}

// Undo gives the event that cancels the newest event that holds. When only the
// cast-on is left it is a *CastOnStaysError.
func (s *State) Undo() (*Undone, error) {
	e := &Undone{Seq: s.CanUndo}
	return e, s.Check(e)
}

// UndoLast gives the events that take back the last n things logged, the newest first. With
// fewer than n to take back it is a *TooFewError, with only the cast-on left a
// *CastOnStaysError.
func (s *State) UndoLast(n int) ([]Event, error) {
	switch {
	case len(s.steps) == 0:
		_, err := s.Undo()
		return nil, err
	case n > len(s.steps):
		return nil, &TooFewError{Steps: len(s.steps)}
	}
	var events []Event
	for _, seq := range slices.Backward(s.steps[len(s.steps)-n:]) {
		events = append(events, &Undone{Seq: seq})
	}
	return events, nil
}

// Redo gives the event that takes the newest undoing back. When nothing was undone
// since the last change it is a *NothingToRedoError.
func (s *State) Redo() (*Redone, error) {
	e := &Redone{Seq: s.CanRedo}
	return e, s.Check(e)
}
