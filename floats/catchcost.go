package floats

// CatchCosts is what catches of the row to work cost in points, each by itself and against
// the catches made below, those planned above, and another yarn caught at the same stitch
// in the row as given; gaps apart. It prices as Adjust does and takes time linear in the
// catches of three rows.
func (f *Fabric) CatchCosts(d Deviation, row, of []Catch) []int {
	a := newAdjusting(f, d)
	a.caught = map[Catch]bool{}
	for _, c := range row {
		a.caught[c] = true
	}
	costs := make([]int, len(of))
	for i, c := range of {
		own := a.caught[c]
		delete(a.caught, c)
		costs[i] = a.costAt(site{c.Row, c.Stitch - 1}, c.Yarn)
		a.caught[c] = own
	}
	return costs
}
