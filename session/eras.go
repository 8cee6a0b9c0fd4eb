package session

import (
	"slices"

	"strandwise/chart"
)

// A row is told in the history as it was logged, under the plan it was worked from. Once
// that plan is gone, since the row was ripped back or undone and another chart put in
// its place, the yarns and the limit of today say something else. So the history
// walks the log once and notes which plans were in force when.

// era is a stretch of the log under the same plans.
type era struct {
	after    uint64       // it begins with the event after this one
	yarns    []chart.Yarn // of the fabric then; empty where it cannot be laid any more
	segments []Segment
}

// Remember makes Words tell rows of former plans in the yarns they were worked in. A
// yarn of a chart that is gone is told by its number. It takes time linear in the log
// for each change of the plan.
func (p *Piece) Remember(charts Charts) {
	p.eras = nil
	for i, r := range p.State.records {
		switch Kind(r.Kind) {
		case KindReplanned:
			if p.eras == nil {
				p.eras = append(p.eras, p.eraOf(0, i, charts))
			}
		case KindUndone, KindRedone, KindRipped:
			if p.eras == nil {
				continue
			}
		default:
			continue
		}
		p.eras = append(p.eras, p.eraOf(r.Seq, i+1, charts))
	}
}

// eraOf is the era that begins after an event, by the plans that so many records, the
// first, leave.
func (p *Piece) eraOf(after uint64, count int, charts Charts) era {
	then, err := Fold(slices.Clip(p.State.records[:count]))
	if err != nil {
		panic("session: the beginning of a log that was read cannot be: " + err.Error())
	}
	e := era{after: after, segments: then.Segments}
	if l, err := then.Lay(charts); err == nil {
		e.yarns = l.Fabric.Yarns
	}
	return e
}

// Words is the line of an event of the log for the history, in the knitter's
// words: "row 12 knitted: fjord caught on 6, 18; 1 moved". A cancelled event says
// so at the end. Without Remember before, yarns are those of the fabric as it is now;
// one that is not among them is told by its number or symbol. The number of the event
// and its time are left to the caller.
func (p *Piece) Words(e Entry) string {
	eras := p.eras
	if eras == nil {
		eras = []era{{yarns: p.Layout.Fabric.Yarns, segments: p.State.Segments}}
	}
	return p.State.words(e, eras)
}
