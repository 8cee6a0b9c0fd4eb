package floats

import "slices"

// A float over the start is half made when its upper row begins: the catches of
// the lower row stand as they were made. When they are not as planned, or a catch
// above would stack, the rest is chosen anew from the last catch made. A rest as good
// as the plan's leaves the plan's: a catch shows as moved only where moving gains.

// continueOver chooses the upper catches of a float whose lower row is finished. They stay as planned
// where the lower ones do and the rest follows: a plan made anew may have had other lower catches.
func (a *adjusting) continueOver(fl Float) {
	made, planned := a.f.setOn(fl, setOfCatches(a.d.Below)), a.f.setOn(fl, setOfCatches(a.d.Plan(fl.Row)))
	rest, old := a.restOf(fl, made), a.setOf(fl)
	if a.d.Made == a.d.Method && slices.Equal(made, planned) && !a.strikes(fl, a.strange) && rest.keeps(old) {
		return
	}
	a.lift(fl)
	rest.priceAll()
	for _, p := range rest.best(old) {
		a.caught[a.f.catchOn(fl, int(p))] = true
	}
}

func (a *adjusting) restOf(fl Float, made []int32) *tail {
	last := 0
	if len(made) > 0 {
		last = int(made[len(made)-1])
	}
	first := a.f.Rows[fl.Row].Stitches() - fl.Stitch + 2
	r := rulesFor(fl.Length, a.d.Limit, a.d.Method)
	t := &tail{
		a: a, fl: fl, r: r, upper: first, last: fl.Length + 1 - r.stepMin, made: last,
		price: make([]int64, fl.Length), known: map[[2]int]tailChoice{},
	}
	t.first = max(first, 2, last+rulesFor(fl.Length, a.d.Limit, a.d.Made).stepMin)
	for t.over = t.from(last, many).over(); t.from(last, t.most).over() > t.over; {
		t.most++
	}
	if len(made)+t.most <= r.fewest {
		t.most++
	}
	return t
}

func (t *tail) keeps(rest []int32) bool {
	cost, allowed := t.costOf(t.made, t.most, rest)
	return allowed && tailChoice{cost: cost}.over() <= t.over
}

// priceAll sets what a catch costs at each position, those of the float itself apart.
func (t *tail) priceAll() {
	clear(t.known)
	f := t.a.f
	price, beside := pricing{f, t.a.d.Method, showTable(f.Yarns)}, f.beside(t.a.fixed())
	for p := range t.price {
		at := f.siteIn(t.fl, p+1)
		t.price[p] = int64(price.catch(at, t.fl.Yarn) + beside(at, t.fl.Yarn))
	}
}

// best is the rest of least cost, by dynamic programming over the positions of the upper row.
// Gaps stay within the limit as far as they can, and the float has no more catches than allowed
// as far as that can be. Old is the rest as planned, which stays when none is cheaper.
func (t *tail) best(old []int32) []int32 {
	if cost, allowed := t.costOf(t.made, t.most, old); allowed && cost <= t.from(t.made, t.most).cost {
		return old
	}
	var rest []int32
	left := t.most
	for c := t.from(t.made, left); c.next != 0; c = t.from(c.next, left) {
		rest = append(rest, int32(c.next))
		left--
	}
	return rest
}

type tail struct {
	a     *adjusting
	fl    Float
	r     rules
	upper int                   // first position in the upper row
	first int                   // first position that may be caught
	last  int                   // and the last
	made  int                   // position of the last catch made, 0 for none
	over  int64                 // stitches over the limit that cannot be helped
	most  int                   // catches that may follow the last one made: the fewest for that, or one more
	price []int64               // by position - 1: a catch there, gaps apart
	known map[[2]int]tailChoice // by position and catches left
}

// many catches left are as many as it takes.
const many = -1

// overCost is what a stitch over the limit costs: more than all else together, so that no
// more are left than cannot be helped.
const overCost = int64(1) << 32

// tailChoice is the best way on: what it costs, and where the next catch stands.
type tailChoice struct {
	cost int64
	next int // 0 for none
}

func (c tailChoice) over() int64 { return c.cost / overCost }

// from finds the best way on from a catch on p (0 for the start of the float) with at most so many
// catches. Of equal ways it takes the one that ends first, then the one with the earlier catch.
func (t *tail) from(p, left int) tailChoice {
	key := [2]int{p, left}
	if c, ok := t.known[key]; ok {
		return c
	}
	best := tailChoice{cost: t.gap(t.gapTo(p, t.fl.Length+1))}
	farthest := min(t.last, max(t.least(p), t.open(p)+t.r.limit)) // that is of use
	for q := t.least(p); left != 0 && q <= farthest; q++ {
		if cost := t.costTo(p, q) + t.from(q, max(left-1, many)).cost; cost < best.cost {
			best = tailChoice{cost, q}
		}
	}
	t.known[key] = best
	return best
}

func (t *tail) least(p int) int {
	if p < t.upper {
		return t.first
	}
	return p + t.r.stepMin
}

// costOf is what a set costs after a catch on p, and whether it may follow one with so
// many catches left.
func (t *tail) costOf(p, left int, set []int32) (cost int64, allowed bool) {
	for _, next := range set {
		q := int(next)
		if q < t.least(p) || q > t.last {
			return 0, false
		}
		cost += t.costTo(p, q)
		p = q
	}
	return cost + t.gap(t.gapTo(p, t.fl.Length+1)), len(set) <= left
}

func (t *tail) costTo(p, q int) int64 { return t.gap(t.gapTo(p, q)) + t.price[q-1] }

// gapTo is the gap between the catches on p and q, whichever way each is made: a weave
// closes the gap before its stitch, a twist too.
func (t *tail) gapTo(p, q int) int { return q - t.open(p) }

// open is the position from which the yarn runs uncaught after a catch on p: that stitch
// itself after a twist, the next after a weave.
func (t *tail) open(p int) int {
	if p == 0 {
		return 1
	}
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
	return int64(gapWeight(min(g, t.r.limit), t.r.limit)) + overCost*int64(max(0, g-t.r.limit))
}
