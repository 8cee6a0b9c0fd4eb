package floats

import (
	"fmt"
	"maps"
	"slices"
)

// Deviation is a piece in work where the catches made may differ from the plan.
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
	for _, fl := range f.RowFloats(d.Row, d.RestLimit) {
		if fl.Kind == OverStart && fl.Row < d.Row && fl.Length > d.Limit {
			a.continueOver(fl)
		}
	}
	if len(a.strange) > 0 {
		a.chooseAgain()
	}
	row := a.row()
	if _, err := f.CheckRow(d, row); err != nil {
		panic(fmt.Sprintf("floats: an adjusted row breaks a rule that it could keep: %v", err))
	}
	return row
}

type adjusting struct {
	f       *Fabric
	d       Deviation
	caught  map[Catch]bool // in the row and the one above, as planned or as decided so far
	below   map[int]bool   // columns with a catch made in the row below
	strange map[int]bool   // of those, the ones the plan did not have
}

func newAdjusting(f *Fabric, d Deviation) *adjusting {
	a := &adjusting{f: f, d: d, caught: setOfCatches(d.Plan(d.Row)), below: map[int]bool{}, strange: map[int]bool{}}
	if d.Row+1 < len(f.Rows) {
		for _, c := range d.Plan(d.Row + 1) {
			a.caught[c] = true
		}
	}
	if !f.comparable(d.Row) {
		return a
	}
	planned := setOfCatches(d.Plan(d.Row - 1))
	for _, c := range d.Below {
		a.below[f.column(c)] = true
		if !planned[c] {
			a.strange[f.column(c)] = true
		}
	}
	return a
}

func setOfCatches(all []Catch) map[Catch]bool {
	set := map[Catch]bool{}
	for _, c := range all {
		set[c] = true
	}
	return set
}

func (a *adjusting) chooseAgain() {
	chosen := map[Float]bool{} // of those that stand in several repeats
	a.choose(true, func(copies []Float) bool {
		strikes := slices.ContainsFunc(copies, func(fl Float) bool { return a.strikes(fl, a.strange) })
		for _, fl := range copies {
			chosen[fl] = strikes && len(copies) > 1
		}
		return strikes
	})
	a.choose(false, func(one []Float) bool { return chosen[one[0]] && a.strikes(one[0], a.below) })
}

// choose gives floats that begin in the row, alike in all repeats or each by itself, their
// cheapest sets, one after the other; theirs stays when none is cheaper.
func (a *adjusting) choose(alike bool, again func(copies []Float) bool) {
	md := newModel(a.f, a.d.Task, a.d.Row, a.d.Row+1, alike)
	r, open := newRounding(md), []int(nil)
	for i := range md.choices {
		if copies := md.copies(&md.choices[i]); again(copies) {
			open = append(open, i)
			r.put(i, a.setOf(copies[0]))
			a.lift(copies...)
		}
	}
	md.priceBeside(a.fixed())
	for _, i := range open {
		r.priceAgainst(i, r.taken)
		r.take(i)
	}
	for _, c := range md.catches(r.sets) {
		a.caught[c] = true
	}
}

func (a *adjusting) fixed() []Catch {
	return slices.AppendSeq(slices.Clone(a.d.Below), maps.Keys(a.caught))
}

func (a *adjusting) strikes(fl Float, columns map[int]bool) bool {
	return slices.ContainsFunc(a.setOf(fl), func(p int32) bool {
		c := a.f.catchOn(fl, int(p))
		return c.Row == a.d.Row && columns[a.f.column(c)]
	})
}

func (a *adjusting) setOf(fl Float) []int32 { return a.f.setOn(fl, a.caught) }

func (a *adjusting) lift(floats ...Float) {
	for _, fl := range floats {
		for _, p := range a.setOf(fl) {
			delete(a.caught, a.f.catchOn(fl, int(p)))
		}
	}
}

func (a *adjusting) row() (all []Catch) {
	for c := range a.caught {
		if c.Row == a.d.Row {
			all = append(all, c)
		}
	}
	sortCatches(all)
	return all
}

func (f *Fabric) setOn(fl Float, caught map[Catch]bool) []int32 {
	var set []int32
	for p := 1; p <= fl.Length; p++ {
		if caught[f.catchOn(fl, p)] {
			set = append(set, int32(p))
		}
	}
	return set
}

// catchOn is a catch on position p (from 1) of a float.
func (f *Fabric) catchOn(fl Float, p int) Catch {
	at := f.siteIn(fl, p)
	return Catch{at.row, at.stitch + 1, fl.Yarn}
}

// siteIn places position p (from 1) of a float; one over the start goes on into the next row.
func (f *Fabric) siteIn(fl Float, p int) site {
	at := site{fl.Row, fl.Stitch - 1 + p - 1}
	if n := f.Rows[fl.Row].Stitches(); fl.Kind == OverStart && at.stitch >= n {
		return site{fl.Row + 1, at.stitch - n}
	}
	return at
}

// column is the column of a catch's stitch over all repeats, from 0.
func (f *Fabric) column(c Catch) int { return f.Rows[c.Row].Stitch(c.Stitch).Column }
