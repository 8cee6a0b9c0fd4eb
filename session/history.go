package session

import "slices"

// History gives the events that are told one by one: all but the heads of those that were
// logged together.
func (s *State) History() []Entry {
	return slices.DeleteFunc(slices.Clone(s.entries), func(e Entry) bool { return e.Kind() == KindTogether })
}

// words is the line of an event of the log.
func (s *State) words(e Entry, planPeriods []planPeriod) string {
	line := e.Event.words(historyWords{s, planPeriods, e.Seq, e.met})
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
