package answer

import (
	"fmt"
	"time"

	d "strandwise/cmd/document"
	"strandwise/session"
)

// History is the answer of history, schema 2.
type History struct {
	Events []Event `json:"events"`

	before int // events before these
}

// Event is one event; undone tells that it does not hold, of an undoing that it was redone.
type Event struct {
	Number uint64    `json:"number"`
	At     time.Time `json:"at"`
	Kind   string    `json:"kind"`
	Words  string    `json:"words"`
	Undone bool      `json:"undone"`
}

// NewHistory makes the answer of the last events of a piece; 0 is all.
func NewHistory(p *session.Piece, last int) *History {
	log, a := p.State.History(), &History{}
	if last > 0 {
		a.before = max(0, len(log)-last)
	}
	a.Events = mapped(log[a.before:], func(e session.Entry) Event { return Event{e.Seq, e.At, e.Kind().String(), p.Words(e), e.Canceled} })
	return a
}

// Document tells an event a line.
func (a *History) Document() d.Document {
	p := &prose{}
	if a.before > 0 {
		p.item("%s before these: strandwise history --last 0", d.Counted(a.before, "line"))
	}
	width := len(fmt.Sprint(a.Events[len(a.Events)-1].Number))
	for _, e := range a.Events {
		p.numbered(fmt.Sprintf("%*d ", width, e.Number), d.DayTime(e.At)+" ", e.Words)
	}
	return p.document()
}
