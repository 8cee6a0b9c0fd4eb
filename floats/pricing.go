package floats

import "strandwise/chart"

type pricing struct {
	fabric *Fabric
	method Method
	show   [][]int // by caught yarn, by worked yarn
}

// catch is the cost in points of catching yarn at a site, gaps and neighboring catches apart.
func (p pricing) catch(at site, yarn int) int {
	s := p.fabric.stitchAt(at)
	points := weightCatch.points()
	if !p.hidden(at, s, yarn) {
		points += p.show[yarn][s.Yarn]
	}
	switch {
	case s.Technique.Shaped():
		points += weightShaped.points()
	case s.Technique == chart.Purl:
		points += weightPurl.points()
	}
	if next, ok := p.fabric.next(at); ok && p.method == Weave && next.Yarn != s.Yarn {
		points += weightChange.points()
	}
	return points
}

// hidden reports whether the stitch below is worked in the caught yarn, where a
// fleck of it does not show.
func (p pricing) hidden(at site, s Stitch, yarn int) bool {
	if at.row == 0 || !p.fabric.comparable(at.row) {
		return false
	}
	return p.fabric.Rows[at.row-1].Cell(s.Column).Yarn == yarn
}

// comparable reports whether a row has as many columns as the row below it.
func (f *Fabric) comparable(row int) bool {
	return row > 0 && row < len(f.Rows) && f.Rows[row].Columns() == f.Rows[row-1].Columns()
}

// stitchAt returns the stitch at a site, its column counted over all repeats.
func (f *Fabric) stitchAt(at site) Stitch {
	return f.Rows[at.row].Stitch(at.stitch + 1)
}

// next is the stitch worked after a site, at the end of a round the first of the next, flat none.
func (f *Fabric) next(at site) (Stitch, bool) {
	if at.stitch+1 < f.Rows[at.row].Stitches() {
		return f.stitchAt(site{at.row, at.stitch + 1}), true
	}
	if f.Flat || at.row+1 == len(f.Rows) {
		return Stitch{}, false
	}
	return f.stitchAt(site{at.row + 1, 0}), true
}

// beside tells what a catch costs in points beside others in its row and in those below and above.
func (f *Fabric) beside(others []Catch) func(at site, yarn int) int {
	caught := map[site]int{} // by row and column: how many
	for _, c := range others {
		caught[site{c.Row, f.column(c)}]++
	}
	return func(at site, _ int) int {
		column := f.stitchAt(at).Column
		points := caught[site{at.row, column}] * weightTwice.points()
		for _, other := range []int{at.row - 1, at.row + 1} {
			for step := -1; step <= 1 && f.comparable(max(at.row, other)); step++ {
				points += caught[site{other, column + step}] * stackWeight(step)
			}
		}
		return points
	}
}

// stackWeight is the price of two catches in adjacent rows, in one column or in neighboring ones.
func stackWeight(apart int) int {
	if apart == 0 {
		return weightStack.points()
	}
	return weightNear.points()
}
