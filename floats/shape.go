package floats

// shape is the allowed sets of catches on a float of one length as a graph of two layers, one for
// each count of catches that is allowed: the fewest that can do, and one more. A state is "catch
// j of the layer stands on position p"; the positions of catch j form a window, and from each a
// step of stepMin to stepMax leads to the next. The ends of the float are the first and last
// state of a layer. A set of catches is a path through one layer, so the cheapest set is a
// shortest path, found in time linear in the length for a given limit. Floats of one length share
// their shape.
type shape struct {
	rules
	segments []segment // layer by layer, catch by catch
	states   int
	starts   []int32   // the first segment of each layer
	byPos    [][]int32 // segments whose catch may stand on each position, by position - 1
	before   [][]int32 // segments from which a step can reach or pass each position
}

type segment struct {
	count, j int // catch j of count; 0 is the start of the float, count + 1 its end
	lo, hi   int // positions, both in
	base     int // state number of lo
}

func (s segment) end() bool       { return s.j > s.count }
func (s segment) catch() bool     { return s.j > 0 && s.j <= s.count }
func (s segment) state(p int) int { return s.base + p - s.lo }

func newShape(r rules) *shape {
	s := &shape{rules: r, byPos: make([][]int32, r.n), before: make([][]int32, r.n)}
	for _, count := range []int{r.fewest, r.fewest + 1} {
		if !r.feasible(count) {
			continue
		}
		s.starts = append(s.starts, int32(len(s.segments)))
		for j := range count + 2 {
			lo, hi := r.window(j, count)
			s.add(segment{count, j, lo, hi, s.states})
		}
	}
	if s.states == 0 {
		panic("floats: no set of catches is allowed on a float over the limit")
	}
	return s
}

func (s *shape) add(g segment) {
	i := int32(len(s.segments))
	for p := g.lo; g.catch() && p <= g.hi; p++ {
		s.byPos[p-1] = append(s.byPos[p-1], i)
	}
	for p := max(1, g.lo+1); p <= min(g.hi+s.stepMax, s.n); p++ {
		s.before[p-1] = append(s.before[p-1], i)
	}
	s.segments = append(s.segments, g)
	s.states += g.hi - g.lo + 1
}

func (s *shape) allowed(p int) bool { return len(s.byPos[p-1]) > 0 }

// from bounds the positions of the catch before one on p, in segment g.
func (s *shape) from(g segment, p int) (lo, hi int) {
	return max(g.lo, p-s.stepMax), min(g.hi, p-s.stepMin)
}

// to bounds the positions of the catch after one on p, in segment g.
func (s *shape) to(g segment, p int) (lo, hi int) {
	return max(g.lo, p+s.stepMin), min(g.hi, p+s.stepMax)
}
