package floats

import "slices"

// A float over the start is half made when its upper row begins: the catches of
// the lower row stand as they were made. When they are not as planned, or a catch
// above would stack, the rest is chosen anew from the last catch made. A rest as good
// as the plan's leaves the plan's: a catch shows as moved only where moving gains.

// continueOver chooses the upper catches of a float whose lower row is finished.
func (a *adjusting) continueOver(fl Float) {
	made, planned := a.lowerSet(fl, a.d.Below), a.lowerSet(fl, a.d.Plan(fl.Row))
	upper := []Float{a.upperPart(fl)}
	if a.d.Made == a.d.Method && slices.Equal(made, planned) && !a.strikes(upper, a.strange) {
		return
	}
	last := 0
	if len(made) > 0 {
		last = made[len(made)-1]
	}
	old := a.setOf(fl)
	a.lift(upper)
	a.layRest(fl, last, old)
}

// upperPart is the part of the float that lies in the row to work.
func (a *adjusting) upperPart(fl Float) Float {
	below := a.f.Rows[fl.Row].Stitches() - (fl.Stitch - 1)
	return Float{fl.Yarn, Within, a.d.Row, 1, fl.Length - below}
}

// lowerSet is the positions of the float caught in its lower row.
func (a *adjusting) lowerSet(fl Float, catches []Catch) []int {
	var set []int
	for _, c := range catches {
		if c.Yarn == fl.Yarn && c.Row == fl.Row && c.Stitch >= fl.Stitch && c.Stitch < fl.Stitch+fl.Length {
			set = append(set, c.Stitch-fl.Stitch+1)
		}
	}
	slices.Sort(set)
	return set
}

// layRest catches what follows position last, the last catch made (0 for none), at
// the least cost by dynamic programming over the positions of the upper row: gaps
// within the limit as far as they can be. A gap already too long is closed on the
// first stitch that may be caught. Old is the rest as planned, which stays when none
// is cheaper.
func (a *adjusting) layRest(fl Float, last int, old []int) {
	first := fl.Length - a.upperPart(fl).Length + 1
	r := rulesFor(fl.Length, a.d.Limit, a.d.Method)
	t := tail{a: a, fl: fl, r: r, upper: first, known: map[int]tailChoice{}}
	t.first = max(first, 2, last+rulesFor(fl.Length, a.d.Limit, a.d.Made).stepMin)
	if cost, allowed := t.costOf(last, old); allowed && cost <= t.from(last).cost {
		a.lay([]Float{fl}, old)
		return
	}
	a.lay([]Float{fl}, t.restFrom(last))
}

// tail is the search for the catches of the upper row.
type tail struct {
	a     *adjusting
	fl    Float
	r     rules
	upper int // first position in the upper row
	first int // first position that may be caught
	known map[int]tailChoice
}

type tailChoice struct {
	cost int64
	next int // position of the next catch, 0 for none
}

// overLimit is the price of each stitch of a gap beyond the limit: above that of
// any allowed set, so that a gap too long is only made where it cannot be helped.
const overLimit = 1_000_000

// from finds the best way on from a catch on p (0 for the start of the float).
func (t *tail) from(p int) tailChoice {
	if c, ok := t.known[p]; ok {
		return c
	}
	best := tailChoice{cost: t.gap(t.endGap(p))}
	for q := t.least(p); q <= t.r.lastMax && q <= p+t.r.stepMax+t.first; q++ {
		cost := t.gap(t.gapTo(p, q)) + int64(t.a.costAt(t.a.f.siteIn(t.fl, q), t.fl.Yarn)) + t.from(q).cost
		if cost < best.cost {
			best = tailChoice{cost, q}
		}
	}
	t.known[p] = best
	return best
}

// least is the first position that may be caught after a catch on p.
func (t *tail) least(p int) int {
	if p < t.upper {
		return t.first
	}
	return p + t.r.stepMin
}

// restFrom lists the catches of the best way on from p.
func (t *tail) restFrom(p int) []int {
	var set []int
	for c := t.from(p); c.next != 0; c = t.from(c.next) {
		set = append(set, c.next)
	}
	return set
}

// costOf is what a set costs after a catch on p, and whether it may follow one.
func (t *tail) costOf(p int, set []int) (cost int64, allowed bool) {
	for _, q := range set {
		if q < t.least(p) || q > t.r.lastMax {
			return 0, false
		}
		cost += t.gap(t.gapTo(p, q)) + int64(t.a.costAt(t.a.f.siteIn(t.fl, q), t.fl.Yarn))
		p = q
	}
	return cost + t.gap(t.endGap(p)), true
}

// gapTo is the gap between the catches on p and q, whichever way each is made: a weave
// closes the gap before its stitch, a twist too.
func (t *tail) gapTo(p, q int) int {
	if p == 0 {
		return t.r.firstGap(q)
	}
	return q - t.open(p)
}

func (t *tail) endGap(p int) int {
	if p == 0 {
		return t.fl.Length
	}
	return t.fl.Length - t.open(p) + 1
}

// open is the position from which the yarn runs uncaught after a catch on p: that stitch
// itself after a twist, the next after a weave.
func (t *tail) open(p int) int {
	method := t.a.d.Method
	if p < t.upper {
		method = t.a.d.Made
	}
	if method == Twist {
		return p
	}
	return p + 1
}

func (t *tail) gap(g int) int64 {
	if g > t.r.limit {
		return int64(g-t.r.limit) * overLimit
	}
	return int64(gapWeight(g, t.r.limit))
}
