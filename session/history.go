package session

import (
	"fmt"
	"reflect"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
)

// An event is told in the history as it was logged, in the state that it met: once the plan of a row
// is gone, since the row was ripped back or undone and another chart put in its place, the yarns and
// the limit of today say something else.

// History gives the events that are told one by one: all but those that head others logged together.
func (s *State) History() []Entry {
	return slices.DeleteFunc(slices.Clone(s.Log), func(e Entry) bool { return e.Kind() == KindTogether })
}

// Remember makes Words tell rows of former plans in the yarns they were worked in, those of a chart that is
// gone by number. The time is linear in the log and in the stitches of each plan.
func (p *Piece) Remember(charts Charts) {
	p.former = map[uint64]*floats.Fabric{}
	plans, fabric := p.State.Segments, p.Layout.Fabric
	for _, e := range slices.Backward(p.State.Log) {
		if !reflect.DeepEqual(e.met.Segments, plans) {
			plans, fabric = e.met.Segments, nil
			if l, err := e.met.Lay(charts); err == nil {
				fabric = l.Fabric
			}
		}
		p.former[e.Seq] = fabric
	}
}

// Words is the line of an event for the history, without its number and time: "row 12 knitted: fjord
// caught on 6, 18; 1 moved". A canceled event says so at the end. Without Remember before, yarns are those
// of the fabric as it is now; one that is not among them is told by its number or symbol.
func (p *Piece) Words(e Entry) string {
	line := historyWords{p, p.State, e}.of(e)
	switch {
	case !e.Canceled:
		return line
	case e.Kind() == KindUndone:
		return line + " (redone)"
	}
	return line + " (undone)"
}

// laid is a row as it was laid then, which has at least so many stitches; of one that cannot be laid
// any more, all its stitches are in one repeat.
func (t historyWords) laid(row, least int) *floats.Course {
	if f := t.fabric(); f != nil && row <= len(f.Rows) && f.Rows[row-1].Stitches() >= least {
		return f.Rows[row-1].Course
	}
	return &floats.Course{Blocks: []floats.Block{{Number: 1, Repeats: 1, Stitches: maxInt}}}
}

func (t historyWords) row() string { return t.state.rowWord() }

func (t historyWords) yarn(i int) string {
	if f := t.fabric(); f != nil && i < len(f.Yarns) {
		return f.Yarns[i].Name
	}
	return fmt.Sprintf("yarn %d", i+1)
}

func (t historyWords) symbol(symbol rune) string {
	if f := t.fabric(); f != nil {
		if i := f.Yarn(symbol); i != chart.NoYarn {
			return f.Yarns[i].Name
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
	e, _ := t.state.Entry(seq) // it is there, or the log would not have been taken
	return fmt.Sprintf("event %d (%s)", seq, t.of(e))
}

func (t historyWords) of(e Entry) string {
	t.Entry = e
	return e.Event.words(t)
}
