package floats

import (
	"cmp"
	"fmt"
	"slices"
)

// The plain checker. It holds catches against the rules as they are worded, by walking
// the stitches in knitting order, and shares no code with the planner: it finds the
// floats, counts the fewest catches and measures the gaps by itself.

// BrokenRuleError tells that catches break a rule of the plan: our own bug, never the knitter's.
type BrokenRuleError struct {
	Row, Stitch int // where the float begins; row as in Fabric.Rows, stitch from 1
	Length      int // of the float, 0 where the fault is of no float
	Yarn        rune
	Rule        string
}

func (e *BrokenRuleError) Error() string {
	return fmt.Sprintf("yarn %c from row %d stitch %d behind %d stitches: %s", e.Yarn, e.Row+1, e.Stitch, e.Length, e.Rule)
}

// Check holds a plan against the rules: every float over the limit is caught by an allowed set, copies
// in every repeat alike, and nothing else is caught. Catches are in order of rows. It returns a
// *BrokenRuleError for the first that is not so, and takes time linear in the stitches.
func (f *Fabric) Check(catches []Catch, t Task) error {
	c := newChecker(f, t)
	for i, at := range catches {
		if at.Row < 0 || at.Row >= len(c.rows) || i > 0 && at.Row < catches[i-1].Row {
			return &BrokenRuleError{at.Row, at.Stitch, 0, '?', "catches of no row, or out of order"}
		}
		c.rows[at.Row] = append(c.rows[at.Row], at)
	}
	for r := range f.Rows {
		if err := c.row(r); err != nil {
			return err
		}
	}
	return c.stray(len(catches), 0)
}

// stray is the error of catches that no float was found for.
func (c *checker) stray(catches, row int) error {
	if stray := catches - c.matched; stray > 0 {
		return &BrokenRuleError{Row: row, Yarn: '?', Rule: fmt.Sprintf("%d catches where no yarn has a float", stray)}
	}
	return nil
}

type checker struct {
	f       *Fabric
	t       Task
	rows    [][]Catch     // of each row
	last    []checkedSite // by yarn: its last stitch, row -1 before the first
	alike   map[[3]int][]int
	matched int
	set     []int
	begun   *begun // nil where whole floats are checked
}

type checkedSite struct{ row, stitch int } // stitch from 1

func newChecker(f *Fabric, t Task) *checker {
	last := slices.Repeat([]checkedSite{{row: -1}}, len(f.Yarns))
	return &checker{f: f, t: t, rows: make([][]Catch, len(f.Rows)), last: last, alike: map[[3]int][]int{}}
}

func (c *checker) row(r int) error {
	clear(c.alike)
	slices.SortFunc(c.rows[r], func(a, b Catch) int { return cmp.Or(a.Yarn-b.Yarn, a.Stitch-b.Stitch) })
	for i := range c.f.Rows[r].Stitches() {
		y, here := c.f.Rows[r].Stitch(i+1).Yarn, checkedSite{r, i + 1}
		if c.last[y].row >= 0 {
			if err := c.between(y, c.last[y], here); err != nil {
				return err
			}
		}
		c.last[y] = here
	}
	return nil
}

// span is neighboring stitches of one row, both ends in.
type span struct{ row, from, to int }

func (s span) length() int { return max(0, s.to-s.from+1) }

func (c *checker) between(yarn int, from, to checkedSite) error {
	if from.row == to.row {
		return c.within(yarn, span{to.row, from.stitch + 1, to.stitch - 1})
	}
	leaving := span{from.row, from.stitch + 1, c.f.Rows[from.row].Stitches()}
	meeting := span{to.row, 1, to.stitch - 1}
	resting := to.row - from.row - 1
	if !c.f.Flat && resting == 0 {
		_, err := c.float(yarn, leaving, meeting)
		return err
	}
	if resting > c.t.RestLimit {
		return nil
	}
	waits := []span{leaving, meeting}
	if c.f.Flat && resting%2 == 1 {
		waits = append(waits, span{to.row - 1, 1, c.f.Rows[to.row-1].Stitches()})
	}
	for _, s := range waits {
		if _, err := c.float(yarn, s); err != nil {
			return err
		}
	}
	return nil
}

// within checks a float within a row and holds it against its copy in another repeat.
func (c *checker) within(yarn int, s span) error {
	if s.length() == 0 {
		return nil
	}
	set, err := c.float(yarn, s)
	if err != nil || s.length() <= c.t.Limit || c.begun != nil {
		return err
	}
	before, next := c.f.Rows[s.row].PlaceOf(s.from-1), c.f.Rows[s.row].PlaceOf(s.to+1)
	if before.Block != next.Block {
		return nil
	}
	key := [3]int{yarn, before.Block, before.Stitch}
	if like, ok := c.alike[key]; ok && !slices.Equal(like, set) {
		return c.broken(yarn, s, s.length(), "not caught as in the other repeats")
	} else if !ok {
		c.alike[key] = slices.Clone(set)
	}
	return nil
}

func (c *checker) float(yarn int, spans ...span) ([]int, error) {
	n := 0
	c.set = c.set[:0]
	for _, s := range spans {
		row := c.rows[s.row]
		at, _ := slices.BinarySearchFunc(row, Catch{s.row, s.from, yarn}, func(a, b Catch) int {
			return cmp.Or(a.Yarn-b.Yarn, a.Stitch-b.Stitch)
		})
		for ; at < len(row) && row[at].Yarn == yarn && row[at].Stitch <= s.to; at++ {
			c.set = append(c.set, n+row[at].Stitch-s.from+1)
		}
		n += s.length()
	}
	if c.begun != nil {
		return c.set, c.inWork(yarn, spans, n)
	}
	c.matched += len(c.set)
	if fault := faultOf(c.set, n, c.t.Limit, c.t.Method); fault != "" {
		return nil, c.broken(yarn, spans[0], n, fault)
	}
	return c.set, nil
}

func (c *checker) broken(yarn int, s span, n int, fault string) *BrokenRuleError {
	return &BrokenRuleError{s.row, s.from, n, c.f.Yarns[yarn].Symbol, fault}
}

// faultOf is the rule that a set of catches (from 1) breaks on a float of n stitches, "" for none.
func faultOf(set []int, n, limit int, m Method) string {
	if n <= limit {
		if len(set) > 0 {
			return "caught although it is within the limit"
		}
		return ""
	}
	fewest := fewestOf(n, limit, m)
	if len(set) < fewest || len(set) > fewest+1 {
		return fmt.Sprintf("%d catches where %d can do", len(set), fewest)
	}
	at, fault := walk(strand{1, 1}, set, n, limit, m)
	if fault == "" && n+1-at.free > limit {
		return fmt.Sprintf("a gap of %d stitches at its end, over the limit of %d", n+1-at.free, limit)
	}
	return fault
}

// strand is where a float stands: the first stitch not yet passed, and the first that may be caught.
type strand struct{ free, first int }

func after(p int, m Method) strand {
	if m == Twist {
		return strand{p, p + 1}
	}
	return strand{p + 1, p + 2}
}

// walk follows a float from catch to catch, to its end or to the first rule that one breaks.
func walk(at strand, set []int, n, limit int, m Method) (strand, string) {
	for i, p := range set {
		if i > 0 && p <= set[i-1] {
			return at, "two catches at one place"
		}
		if p-at.free > limit {
			return at, fmt.Sprintf("a gap of %d stitches, over the limit of %d", p-at.free, limit)
		}
		if fault := placeFault(set, i, n, limit, m); fault != "" {
			return at, fault
		}
		at = after(p, m)
	}
	return at, ""
}

func fewestOf(n, limit int, m Method) int {
	if m == Twist {
		return (n+limit-1)/limit - 1 // n / limit, rounded up, less one
	}
	return n / (limit + 1) // (n - limit) / (limit + 1), rounded up
}

func placeFault(set []int, i, n, limit int, m Method) string {
	p := set[i]
	switch {
	case m == Twist && p == 1:
		return "a twist before the first stitch"
	case m == Twist:
	case p == n:
		return "a weave on the last stitch"
	case p == 1 && (limit != 1 || n%2 != 0):
		return "a weave on the first stitch"
	case i > 0 && p == set[i-1]+1:
		return "weaves on two adjacent stitches"
	}
	return ""
}
