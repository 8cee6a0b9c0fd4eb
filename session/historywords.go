package session

import (
	"fmt"

	"strandwise/chart"
	"strandwise/floats"
)

// A row is told in the history as it was logged, under the plan it was worked from. Once
// that plan is gone, since the row was ripped back or undone and another chart put in
// its place, the yarns and the limit of today say something else. So the history
// walks the log once and notes which plans were in force when.

// planPeriod is a stretch of the log under the same plans.
type planPeriod struct {
	after    uint64         // it begins with the event after this one
	fabric   *floats.Fabric // as it was laid; nil where it cannot be any more
	segments []Segment
}

func (e planPeriod) yarns() []chart.Yarn {
	if e.fabric == nil {
		return nil
	}
	return e.fabric.Yarns
}

// historyWords gives events the words that depend on the piece.
type historyWords struct {
	state       *State
	planPeriods []planPeriod
	seq         uint64 // number of the event told
	met         met    // what it met
}

// planPeriod is the one the event was logged in.
func (t historyWords) planPeriod() planPeriod {
	at := len(t.planPeriods) - 1
	for at > 0 && t.planPeriods[at].after >= t.seq {
		at--
	}
	return t.planPeriods[at]
}

// laid is a row as it was laid then, which has at least so many stitches; of one that cannot be laid
// any more, all its stitches are in one repeat.
func (t historyWords) laid(row, least int) *floats.Course {
	if f := t.planPeriod().fabric; f != nil && row <= len(f.Rows) && f.Rows[row-1].Stitches() >= least {
		return f.Rows[row-1].Course
	}
	return &floats.Course{Blocks: []floats.Block{{Number: 1, Repeats: 1, Stitches: maxInt}}}
}

func (t historyWords) row() string { return t.state.rowWord() }

func (t historyWords) yarn(i int) string {
	if yarns := t.planPeriod().yarns(); i < len(yarns) {
		return yarns[i].Name
	}
	return fmt.Sprintf("yarn %d", i+1)
}

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

func (t historyWords) quoted(seq uint64) string {
	if e, ok := t.state.Entry(seq); ok {
		t.seq, t.met = seq, e.met
		return fmt.Sprintf("event %d (%s)", seq, e.Event.words(t))
	}
	return fmt.Sprintf("event %d", seq)
}
