package session

import (
	"fmt"
	"slices"
	"time"

	"strandwise/chart"
)

// Entry is one event of a log.
type Entry struct {
	Seq       uint64
	At        time.Time // for display only
	Event     Event
	Cancelled bool // undone, or for an undoing redone: the event does not hold
}

// readLog reads all events of a log. The rows, nearly all of a log, are read into
// one slab and their marks into another: a mark takes at least a byte, so the sum
// of the payloads bounds the marks.
func readLog(records []Record) ([]Entry, error) {
	rows, size := 0, 0
	for _, r := range records {
		if r.Kind == uint16(KindRowKnit) {
			rows, size = rows+1, size+len(r.Payload)
		}
	}
	log, slab, arena := make([]Entry, len(records)), make([]RowKnit, rows), make([]Mark, 0, size)
	last := uint64(0)
	for i, r := range records {
		if r.Seq <= last {
			return nil, &OrderError{Seq: r.Seq, After: last}
		}
		last = r.Seq
		event, err := readEvent(r, &slab, &arena)
		if err != nil {
			return nil, &EventError{Seq: r.Seq, Kind: Kind(r.Kind), Err: err}
		}
		log[i] = Entry{Seq: r.Seq, At: r.At, Event: event}
	}
	return log, nil
}

// readEvent is Decode with a row taken from the slab and its marks from the arena.
func readEvent(rec Record, slab *[]RowKnit, arena *[]Mark) (Event, error) {
	if rec.Kind != uint16(KindRowKnit) {
		return Decode(rec.Kind, rec.Payload)
	}
	row, r := &(*slab)[0], reader{b: rec.Payload}
	*slab = (*slab)[1:]
	row.read(&r, arena)
	if err := r.end(KindRowKnit); err != nil {
		return nil, err
	}
	return row, nil
}

// event finds an event by its number, nil when there is none.
func (s *State) event(seq uint64) Event {
	i, found := slices.BinarySearchFunc(s.Log, seq, func(e Entry, seq uint64) int {
		if e.Seq < seq {
			return -1
		}
		return int(min(e.Seq-seq, 1))
	})
	if !found {
		return nil
	}
	return s.Log[i].Event
}

// Words is the line of an event of the log for the history, in the knitter's
// words: "row 12 knitted: fjord caught on 6, 18; 1 moved". A cancelled event says
// so at the end. Yarns are those of the piece's fabric, to name them by; a yarn
// that is not among them is told by its number or symbol. The number of the event and its
// time are left to the caller.
func (s *State) Words(e Entry, yarns []chart.Yarn) string {
	line := e.Event.words(teller{s, yarns})
	if !e.Cancelled {
		return line
	}
	if e.Event.Kind() == KindUndone {
		return line + " (redone)"
	}
	return line + " (undone)"
}

// teller gives events the words that depend on the piece.
type teller struct {
	state *State
	yarns []chart.Yarn
}

// row is what one pass is called: a row in flat work, a round in the round.
func (t teller) row() string {
	if t.state.Setup.Flat {
		return "row"
	}
	return "round"
}

// yarn names a yarn by its index.
func (t teller) yarn(i int) string {
	if i < len(t.yarns) {
		return t.yarns[i].Name
	}
	return fmt.Sprintf("yarn %d", i+1)
}

// symbol names a yarn by its symbol.
func (t teller) symbol(symbol rune) string {
	for _, y := range t.yarns {
		if y.Symbol == symbol {
			return y.Name
		}
	}
	return fmt.Sprintf("yarn %c", symbol)
}

// dominant names what is dominant: a word stays, a symbol becomes a name.
func (t teller) dominant(word string) string {
	if runes := []rune(word); len(runes) == 1 {
		return t.symbol(runes[0])
	}
	return word
}

// quoted is the line of another event of the log.
func (t teller) quoted(seq uint64) string {
	if e := t.state.event(seq); e != nil {
		return fmt.Sprintf("event %d (%s)", seq, e.words(t))
	}
	return fmt.Sprintf("event %d", seq)
}

// plural joins a count and a noun: "1 row", "2 rows", "2 stitches".
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	ending := "s"
	if noun[len(noun)-1] == 'h' {
		ending = "es"
	}
	return fmt.Sprintf("%d %s%s", n, noun, ending)
}

// Undo gives the event that cancels the newest event that holds. When only the
// cast-on is left it is a *CastOnStaysError.
func (s *State) Undo() (*Undone, error) {
	e := &Undone{Seq: s.CanUndo}
	return e, s.Check(e)
}

// Redo gives the event that takes the newest undoing back. When nothing was undone
// since the last change it is a *NothingToRedoError.
func (s *State) Redo() (*Redone, error) {
	e := &Redone{Seq: s.CanRedo}
	return e, s.Check(e)
}
