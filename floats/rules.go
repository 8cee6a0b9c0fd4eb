package floats

// rules is what makes a set of catches allowed on a float of n stitches, in the form a
// path needs. The float begins as if caught at start and ends as if caught at n + 1, so
// that one bound on the step from a catch to the next holds for its ends too.
type rules struct {
	n, limit         int
	start            int // 0 for weaves, 1 for twists
	stepMin, stepMax int // from one catch to the next
	closed           int // stitches that a catch keeps out of the gap after it: a weave its own
	fewest           int // the fewest catches that can do
}

// rulesFor states the rules for one float of n > limit stitches.
//
// Weave: the caught stitch belongs to neither gap, none on the last stitch (it closes on the
// next), no two adjacent, none on the first unless no set exists without it. Twist: it lies
// before its stitch, which counts in the gap after it, and not before the first.
func rulesFor(n, limit int, m Method) rules {
	if m == Twist {
		return rules{n: n, limit: limit, start: 1, stepMin: 1, stepMax: limit, fewest: (n+limit-1)/limit - 1}
	}
	r := rules{n: n, limit: limit, stepMin: 2, stepMax: limit + 1, closed: 1, fewest: n / (limit + 1)} // = ceil((n - limit) / (limit + 1))
	if !r.feasible(r.fewest) && !r.feasible(r.fewest+1) {
		r.start = -1
	}
	return r
}

// window bounds the position of catch j of count; 0 is the start of the float, count + 1 its end.
func (r rules) window(j, count int) (lo, hi int) {
	left := count + 1 - j
	return max(r.start+j*r.stepMin, r.n+1-left*r.stepMax), min(r.start+j*r.stepMax, r.n+1-left*r.stepMin)
}

func (r rules) feasible(count int) bool {
	for j := range count + 2 {
		if lo, hi := r.window(j, count); lo > hi {
			return false
		}
	}
	return true
}

func (r rules) allows(set []int32) bool {
	from := r.start
	for i := range len(set) + 1 {
		to := r.n + 1
		if i < len(set) {
			to = int(set[i])
		}
		if step := to - from; step < r.stepMin || step > r.stepMax {
			return false
		}
		from = to
	}
	return len(set) == r.fewest || len(set) == r.fewest+1
}

// gap is the stitches between two catches, or between one and an end of the float.
func (r rules) gap(from, to int) int { return to - max(from, 0) - r.closed }
