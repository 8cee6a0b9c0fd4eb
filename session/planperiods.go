package session

import (
	"slices"

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

// Remember makes Words tell rows of former plans in the yarns they were worked in. A
// yarn of a chart that is gone is told by its number. It takes time linear in the log
// for each change of the plan.
func (p *Piece) Remember(charts Charts) {
	p.planPeriods = nil
	for i, r := range p.State.records {
		switch Kind(r.Kind) {
		case KindReplanned:
			if p.planPeriods == nil {
				p.planPeriods = append(p.planPeriods, p.planPeriodOf(0, i, charts))
			}
		case KindUndone, KindRedone, KindRipped:
			if p.planPeriods == nil {
				continue
			}
		default:
			continue
		}
		p.planPeriods = append(p.planPeriods, p.planPeriodOf(r.Seq, i+1, charts))
	}
}

// planPeriodOf is the period that begins after an event, by the plans that so many records, the
// first, leave.
func (p *Piece) planPeriodOf(after uint64, count int, charts Charts) planPeriod {
	then, err := Fold(slices.Clip(p.State.records[:count]))
	if err != nil {
		panic("session: the beginning of a log that was read cannot be: " + err.Error())
	}
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
