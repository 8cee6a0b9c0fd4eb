package floats

// rules is what makes a set of catches allowed on a float of n stitches, in the
// form a path needs: bounds on the first catch, on each step and on the last.
type rules struct {
	n, limit           int
	method             Method
	firstMin, firstMax int // position of the first catch, from 1
	stepMin, stepMax   int // from one catch to the next
	lastMin, lastMax   int // position of the last catch
	fewest             int // the fewest catches that can do
}

// rulesFor states the rules for one float of n > limit stitches.
//
// Weave: the caught stitch belongs to neither gap, none on the last stitch (it
// closes on the next), no two adjacent, none on the first unless no set exists
// without it. Twist: it lies before its stitch, which counts in the gap after it,
// and not before the first.
func rulesFor(n, limit int, m Method) rules {
	if m == Twist {
		return rules{
			n: n, limit: limit, method: m,
			firstMin: 2, firstMax: limit + 1, stepMin: 1, stepMax: limit,
			lastMin: n + 1 - limit, lastMax: n, fewest: (n+limit-1)/limit - 1,
		}
	}
	r := rules{
		n: n, limit: limit, method: m,
		firstMin: 2, firstMax: limit + 1, stepMin: 2, stepMax: limit + 1,
		lastMin: n - limit, lastMax: n - 1, fewest: n / (limit + 1), // = ceil((n - limit) / (limit + 1))
	}
	if !r.feasible(r.fewest) && !r.feasible(r.fewest+1) {
		r.firstMin = 1
	}
	return r
}

// window bounds the position of catch j (from 1) of count catches.
func (r rules) window(j, count int) (lo, hi int) {
	lo = max(r.firstMin+(j-1)*r.stepMin, r.lastMin-(count-j)*r.stepMax)
	hi = min(r.firstMax+(j-1)*r.stepMax, r.lastMax-(count-j)*r.stepMin)
	return lo, hi
}

// feasible reports whether some set of count catches is allowed.
func (r rules) feasible(count int) bool {
	for j := 1; j <= count; j++ {
		if lo, hi := r.window(j, count); lo > hi {
			return false
		}
	}
	return true
}

// allows reports whether a set, ascending, is allowed.
func (r rules) allows(set []int) bool {
	if len(set) != r.fewest && len(set) != r.fewest+1 {
		return false
	}
	for i, p := range set {
		if i > 0 && (p-set[i-1] < r.stepMin || p-set[i-1] > r.stepMax) {
			return false
		}
	}
	return len(set) > 0 && set[0] >= r.firstMin && set[0] <= r.firstMax &&
		set[len(set)-1] >= r.lastMin && set[len(set)-1] <= r.lastMax
}

// gaps of a set: before the first catch, between two catches a step apart, after
// the last.

func (r rules) firstGap(p int) int { return p - 1 }

func (r rules) stepGap(step int) int {
	if r.method == Twist {
		return step
	}
	return step - 1
}

func (r rules) lastGap(p int) int {
	if r.method == Twist {
		return r.n - p + 1
	}
	return r.n - p
}
