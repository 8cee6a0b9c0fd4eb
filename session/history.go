package session

import (
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// History gives the events that are told one by one: all but the heads of those that were
// logged together.
func (s *State) History() []Entry {
	return slices.DeleteFunc(slices.Clone(s.entries), func(e Entry) bool { return e.Kind() == KindTogether })
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

// Remember makes Words tell rows of former plans in the yarns they were worked in. A
// yarn of a chart that is gone is told by its number. It takes time linear in the log
// for each change of the plan.
func (p *Piece) Remember(charts Charts) {
	p.planPeriods = nil
	for _, e := range p.State.entries {
		switch e.Kind() {
		case KindReplanned, KindNewBlocks:
			if p.planPeriods == nil {
				p.planPeriods = append(p.planPeriods, planPeriodFrom(0, p.State.before(e.Seq), charts))
			}
		case KindUndone, KindRedone, KindRipped:
			if p.planPeriods == nil {
				continue
			}
		default:
			continue
		}
		p.planPeriods = append(p.planPeriods, planPeriodFrom(e.Seq, p.State.before(e.Seq+1), charts))
	}
}

// planPeriodFrom is the period that begins after an event with the plans of a state.
func planPeriodFrom(after uint64, then *State, charts Charts) planPeriod {
	e := planPeriod{after: after, segments: then.Segments}
	if l, err := then.Lay(charts); err == nil {
		e.fabric = l.Fabric
	}
	return e
}

// Words is the line of an event of the log for the history, in the knitter's
// words: "row 12 knitted: fjord caught on 6, 18; 1 moved". A canceled event says
// so at the end. Without Remember before, yarns are those of the fabric as it is now;
// one that is not among them is told by its number or symbol. The number of the event
// and its time are left to the caller.
func (p *Piece) Words(e Entry) string {
	planPeriods := p.planPeriods
	if planPeriods == nil {
		planPeriods = []planPeriod{{fabric: p.Layout.Fabric, segments: p.State.Segments}}
	}
	return p.State.words(e, planPeriods)
}

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
}

// planPeriod is the one the event was logged in.
func (t historyWords) planPeriod() planPeriod {
	at := len(t.planPeriods) - 1
	for at > 0 && t.planPeriods[at].after >= t.seq {
		at--
	}
	return t.planPeriods[at]
}

// laid is a row as it was laid then; of one that cannot be laid any more, all its stitches are
// in one repeat.
func (t historyWords) laid(row int) *floats.Course {
	if f := t.planPeriod().fabric; f != nil && row <= len(f.Rows) {
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
	t.seq = seq
	if e, ok := t.state.Entry(seq); ok {
		return fmt.Sprintf("event %d (%s)", seq, e.Event.words(t))
	}
	return fmt.Sprintf("event %d", seq)
}
