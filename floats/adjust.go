package floats

import (
	"fmt"
	"maps"
	"slices"
)

// Deviation is a piece in work where the catches made may differ from the plan.
// Catches of a row are given by stitch in knitting order over the whole row.
type Deviation struct {
	Task
	Row   int                   // index into Rows of the row to work now
	Below []Catch               // catches made in the row below
	Made  Method                // and how
	Plan  func(row int) []Catch // the plan's catches of a row
}

// Adjust gives the catches of the row to work now, in order. They are the plan's, but for floats
// where a catch made otherwise than planned in the row below stands in the column of a planned
// one, and floats over the start whose lower catches were made otherwise. Those are chosen again:
// the cheapest allowed set against what was made below and what is planned above and beside. A
// float that stands in every repeat is first chosen again for all repeats alike; a repeat departs
// alone only where it would still stack. A set as good as the plan's leaves the plan's. Of a
// float over the start that begins in the row all is chosen, as if the rest above could still
// follow.
//
// It takes time linear in the stitches of the row.
func (f *Fabric) Adjust(d Deviation) []Catch {
	a := newAdjusting(f, d)
	for _, fl := range a.floats {
		a.reconsider(fl)
	}
	row := a.result()
	if _, err := f.CheckRow(d, row); err != nil {
		panic(fmt.Sprintf("floats: an adjusted row breaks a rule that it could keep: %v", err))
	}
	return row
}

// adjusting holds one row while its floats are chosen again.
type adjusting struct {
	f       *Fabric
	d       Deviation
	price   pricing
	floats  [][]Float // floats of the row; those alike in every repeat together
	caught  map[Catch]bool
	below   map[int]bool // columns with a catch made in the row below
	strange map[int]bool // of those, the ones the plan did not have
	above   map[int]int  // how many catches are planned in a column of the row above
	shapes  shapeCache
}

func newAdjusting(f *Fabric, d Deviation) *adjusting {
	a := &adjusting{
		f: f, d: d, price: pricing{f, d.Method, showTable(f.Yarns)},
		caught: map[Catch]bool{}, below: map[int]bool{}, strange: map[int]bool{}, above: map[int]int{},
		shapes: shapeCache{limit: d.Limit, method: d.Method, known: map[int]*shape{}},
	}
	for _, c := range d.Plan(d.Row) {
		a.caught[c] = true
	}
	a.lookBelow()
	if d.Row+1 < len(f.Rows) {
		for _, c := range d.Plan(d.Row + 1) {
			a.above[f.column(c)]++
		}
	}
	a.gather()
	return a
}

func (a *adjusting) lookBelow() {
	if a.d.Row == 0 || !a.f.comparable(a.d.Row) {
		return
	}
	planned := a.d.Plan(a.d.Row - 1)
	for _, c := range a.d.Below {
		column := a.f.column(c)
		a.below[column] = true
		if !slices.Contains(planned, c) {
			a.strange[column] = true
		}
	}
}

// column is the column of a catch's stitch over all repeats, from 0.
func (f *Fabric) column(c Catch) int {
	return f.stitchAt(site{c.Row, c.Stitch - 1}).Column
}

// gather lists the floats over the limit, copies together.
func (a *adjusting) gather() {
	first := map[[2]int]int{} // yarn and stitch of the first copy
	for _, fl := range a.f.RowFloats(a.d.Row, a.d.RestLimit) {
		if fl.Length <= a.d.Limit {
			continue
		}
		if fl.Kind == Within {
			like, _ := a.f.Rows[a.d.Row].copies(fl)
			key := [2]int{fl.Yarn, like}
			if at, ok := first[key]; ok {
				a.floats[at] = append(a.floats[at], fl)
				continue
			}
			first[key] = len(a.floats)
		}
		a.floats = append(a.floats, []Float{fl})
	}
}

// reconsider chooses the catches of a float anew where it must be.
func (a *adjusting) reconsider(copies []Float) {
	if fl := copies[0]; fl.Kind == OverStart && fl.Row < a.d.Row {
		a.continueOver(fl)
		return
	}
	if !a.strikes(copies, a.strange) {
		return
	}
	a.choose(copies)
	for _, fl := range copies {
		if one := []Float{fl}; len(copies) > 1 && a.strikes(one, a.below) {
			a.choose(one)
		}
	}
}

// strikes reports whether a catch of the floats stands in one of the columns.
func (a *adjusting) strikes(copies []Float, columns map[int]bool) bool {
	for _, fl := range copies {
		for _, p := range a.setOf(fl) {
			if at := a.f.siteIn(fl, int(p)); at.row == a.d.Row && columns[a.f.stitchAt(at).Column] {
				return true
			}
		}
	}
	return false
}

// siteIn places position p (from 1) of a float; one over the start goes on into the next row.
func (f *Fabric) siteIn(fl Float, p int) site {
	at := site{fl.Row, fl.Stitch - 1 + p - 1}
	if n := f.Rows[fl.Row].Stitches(); fl.Kind == OverStart && at.stitch >= n {
		return site{fl.Row + 1, at.stitch - n}
	}
	return at
}

// setOf is where the float is caught at present: in the row to work as decided so
// far, above it as planned.
func (a *adjusting) setOf(fl Float) []int32 {
	var set []int32
	for p := 1; p <= fl.Length; p++ {
		at := a.f.siteIn(fl, p)
		c := Catch{at.row, at.stitch + 1, fl.Yarn}
		if at.row == a.d.Row && a.caught[c] || at.row > a.d.Row && slices.Contains(a.d.Plan(at.row), c) {
			set = append(set, int32(p))
		}
	}
	return set
}

// choose gives the floats, alike, the cheapest set; theirs stays when none is cheaper.
func (a *adjusting) choose(copies []Float) {
	fl := copies[0]
	best := a.setOf(fl)
	a.lift(copies)
	c := &choice{Float: fl, stand: len(copies), shape: a.shapes.of(fl.Length)}
	costs := make([]int64, fl.Length)
	for _, one := range copies {
		for p := range costs {
			costs[p] += int64(a.costAt(a.f.siteIn(one, p+1), fl.Yarn)) * unit
		}
	}
	meeting := func(set []int32) int64 { return a.meeting(fl, set) }
	least := far
	if c.shape.allows(best) {
		least = c.gaps(best) + meeting(best)
		for _, p := range best {
			least += costs[p-1]
		}
	}
	w := &paths{}
	w.set(c, costs)
	set, cost := w.shortest(nil)
	if fl.Length >= a.f.Rows[fl.Row].Stitches()-1 {
		set, cost = w.cheapest(meeting)
	}
	if cost < least {
		best = set
	}
	a.lay(copies, best, 1)
}

// meeting is what a set costs where the float lies above itself.
func (a *adjusting) meeting(fl Float, set []int32) int64 {
	points := 0
	for _, p := range set {
		lower := a.f.siteIn(fl, int(p))
		for _, q := range set {
			if upper := a.f.siteIn(fl, int(q)); lower.row < upper.row && a.f.comparable(upper.row) {
				points += stackWeight(a.f.stitchAt(lower).Column - a.f.stitchAt(upper).Column)
			}
		}
	}
	return int64(points) * unit
}

// stackWeight is the price of two catches in adjacent rows that are so many columns apart.
func stackWeight(apart int) int {
	switch apart {
	case 0:
		return weightStack.points()
	case -1, 1:
		return weightNear.points()
	}
	return 0
}

// costAt prices one catch against what is made below, planned above and beside.
func (a *adjusting) costAt(at site, yarn int) int {
	points := a.price.catch(at, yarn)
	if at.row != a.d.Row {
		return points
	}
	column := a.f.stitchAt(at).Column
	for step := -1; step <= 1; step++ {
		if a.below[column+step] {
			points += stackWeight(step)
		}
		if a.f.comparable(a.d.Row+1) && a.above[column+step] > 0 {
			points += stackWeight(step)
		}
	}
	for y := range a.f.Yarns {
		if a.caught[Catch{at.row, at.stitch + 1, y}] {
			points += weightTwice.points()
		}
	}
	return points
}

func (a *adjusting) lift(copies []Float) {
	for _, fl := range copies {
		a.lay([]Float{fl}, a.setOf(fl), -1)
	}
}

// lay puts a set on the copies (n is 1), or takes it off (-1).
func (a *adjusting) lay(copies []Float, set []int32, n int) {
	for _, fl := range copies {
		for _, p := range set {
			at := a.f.siteIn(fl, int(p))
			switch c := (Catch{at.row, at.stitch + 1, fl.Yarn}); {
			case at.row > a.d.Row:
				a.above[a.f.stitchAt(at).Column] += n
			case at.row < a.d.Row:
			case n > 0:
				a.caught[c] = true
			default:
				delete(a.caught, c)
			}
		}
	}
}

func (a *adjusting) result() []Catch {
	all := slices.Collect(maps.Keys(a.caught))
	sortCatches(all)
	return all
}
