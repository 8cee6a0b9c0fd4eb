package session

import (
	"fmt"
	"strings"
)

// Together heads the several events that one command logged: by its number they are undone and redone as one.
type Together struct {
	Events int // how many of the events with the numbers after it belong to it, at least 2
}

func (e *Together) validate(*State) error { return checkRange("events logged together", e.Events, 2) }

func (e *Together) apply(s *State, log []Entry) { s.until = log[len(log)-1].Seq + uint64(e.Events) }

func (e *Together) fields(w *wire, _ Kind) {
	if w.int(&e.Events); e.Events < 2 {
		w.fail("fewer than two events go together")
	}
}

// words are those of the events it heads; of rows one after the other the first and the last are told.
func (e *Together) words(t historyWords) string {
	var members []Entry
	var rows []int // those knitted without the program
	for _, other := range t.state.Log {
		if other.Seq > t.Seq && other.Seq <= t.Seq+uint64(e.Events) {
			members = append(members, other)
			if row, is := other.Event.(*RowKnit); is && row.Unwitnessed {
				rows = append(rows, row.Row)
			}
		}
	}
	if n := len(rows); n > 1 && n == len(members) {
		return fmt.Sprintf("%ss %d to %d knitted, logged afterwards", t.row(), rows[0], rows[n-1])
	}
	var lines []string
	for _, m := range members {
		lines = append(lines, t.of(m))
	}
	return strings.Join(lines, "; ")
}
