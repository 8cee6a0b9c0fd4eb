package floats

import (
	"fmt"
	"slices"
)

// CheckRow holds the catches of a row to work, chosen anew, against the rules as far as the
// stitches still to work can keep them: what lies in the row whole, and of a float over the start
// the half that is in it, beside what was made below or before what can follow above. It returns
// what can no longer be kept, whatever is done, and a *BrokenRuleError for what could be and is
// not. It takes time linear in the stitches of the rows that a yarn may rest over.
func (f *Fabric) CheckRow(d Deviation, row []Catch) (lost []*BrokenRuleError, err error) {
	c := newChecker(f, d.Task)
	c.begun = &begun{d: d}
	c.rows[d.Row] = append(c.rows[d.Row], row...)
	if d.Row > 0 {
		c.rows[d.Row-1] = append(c.rows[d.Row-1], d.Below...)
	}
	reach := min(d.RestLimit, len(f.Rows)) + 1
	for r := max(0, d.Row-reach); r <= min(d.Row+reach, len(f.Rows)-1); r++ {
		if err := c.row(r); err != nil {
			return nil, err
		}
	}
	if err := c.stray(len(row), d.Row); err != nil {
		return nil, err
	}
	return c.begun.lost, nil
}

type begun struct {
	d    Deviation
	lost []*BrokenRuleError
}

// inWork checks the float whose catches are in c.set, as far as it lies in the row to work.
func (c *checker) inWork(yarn int, spans []span, n int) error {
	d := &c.begun.d
	lower, upper := spans[0], spans[len(spans)-1]
	half, below := lower.length(), 0
	for below < len(c.set) && c.set[below] <= half {
		below++
	}
	fault := ""
	switch {
	case lower.row != d.Row && upper.row != d.Row:
		return nil
	case half == n || half == 0: // in one row
		if (half == n && lower.row != d.Row) || (half == 0 && upper.row != d.Row) {
			return nil
		}
		c.matched += len(c.set)
		fault = faultOf(c.set, n, c.t.Limit, c.t.Method)
	case lower.row == d.Row:
		c.matched += below
		fault = headFault(c.set[:below], half, n, c.t.Limit, c.t.Method)
	default:
		c.matched += len(c.set) - below
		var gone string
		gone, fault = tailFault(c.set[:below], c.set[below:], half, n, d)
		if gone != "" {
			c.begun.lost = append(c.begun.lost, c.broken(yarn, lower, n, gone))
		}
	}
	if fault != "" && !(lower.row == d.Row && c.asPlanned(yarn, lower)) {
		return c.broken(yarn, lower, n, fault)
	}
	return nil
}

// asPlanned reports whether a span of the row to work is caught just as the plan has it. What the
// plan has is no matter of this row: the second of a pair is planned as its first was made, be it
// oftener than need be. Only where a float comes over from below must the plan give way to it.
func (c *checker) asPlanned(yarn int, s span) bool {
	in := func(all []Catch) []int {
		var stitches []int
		for _, k := range all {
			if k.Yarn == yarn && k.Stitch >= s.from && k.Stitch <= s.to {
				stitches = append(stitches, k.Stitch)
			}
		}
		return stitches
	}
	return slices.Equal(in(c.rows[s.row]), in(c.begun.d.Plan(s.row)))
}

// leastOn is what a float of n stitches comes to at least from where it stands: so many stitches
// over the limit that cannot be helped, and so many catches for that. It tries every place for the
// next catch that is of use, beginning at the end of the float.
func leastOn(at strand, n, limit int, m Method) (count, over int) {
	end := n
	if m == Weave {
		end = n - 1
	}
	type least struct{ over, count int }
	from := make([]least, n+1) // by the stitch caught last
	best := func(at strand) least {
		b := least{over: max(0, n+1-at.free-limit)}
		for p := at.first; p <= min(end, max(at.first, at.free+limit)); p++ {
			next := least{from[p].over + max(0, p-at.free-limit), from[p].count + 1}
			if next.over < b.over || next.over == b.over && next.count < b.count {
				b = next
			}
		}
		return b
	}
	for p := end; p >= at.first; p-- {
		from[p] = best(after(p, m))
	}
	b := best(at)
	return b.count, b.over
}

// headFault is the rule that catches in the lower row break of a float over the start
// that can still be caught in the upper one; "" when some allowed set begins so.
func headFault(set []int, half, n, limit int, m Method) string {
	if n <= limit {
		return faultOf(set, n, limit, m)
	}
	at, fault := walk(strand{1, 2}, set, n, limit, m)
	if fault != "" {
		return fault
	}
	at.first = max(at.first, half+1)
	count, over := leastOn(at, n, limit, m)
	switch most := fewestOf(n, limit, m) + 1; {
	case over > 0:
		return fmt.Sprintf("a gap of %d stitches over the limit of %d to come", over, limit)
	case len(set)+count > most:
		return fmt.Sprintf("%d catches so far leave no way to end with %d", len(set), most)
	}
	return ""
}

// tailFault holds the upper catches of a float over the start against the rules, its
// lower ones being made: gone is what those made have broken for good.
func tailFault(made, upper []int, half, n int, d *Deviation) (gone, fault string) {
	if n <= d.Limit {
		if len(upper) > 0 {
			return "", "caught although it is within the limit"
		}
		return "", ""
	}
	at := strand{1, 1}
	if len(made) > 0 {
		at = after(made[len(made)-1], d.Made)
	}
	at.first = max(at.first, half+1)
	count, over := leastOn(at, n, d.Limit, d.Method)
	most := fewestOf(n, d.Limit, d.Method) + 1
	if over > 0 {
		gone = fmt.Sprintf("a gap longer than the limit by %d stitches", over)
	} else if len(made)+count > most {
		gone = fmt.Sprintf("%d catches where %d would do", len(made)+count, most-1)
	}
	if got := overOf(at, upper, n, d.Limit, d.Method); got > over {
		return gone, fmt.Sprintf("gaps %d stitches over the limit where %d can do", got, over)
	}
	for i := range upper {
		if fault := placeFault(upper, i, n, d.Limit, d.Method); fault != "" || upper[i] < at.first {
			return gone, fmt.Sprintf("caught on %d of %d: %s", upper[i], n, fault)
		}
	}
	if len(upper) > count+1 || len(upper) > count && len(made)+len(upper) > most {
		return gone, fmt.Sprintf("%d more catches where %d can do", len(upper), count)
	}
	return gone, ""
}

func overOf(at strand, set []int, n, limit int, m Method) int {
	over := 0
	for _, p := range set {
		over += max(0, p-at.free-limit)
		at = after(p, m)
	}
	return over + max(0, n+1-at.free-limit)
}
