package floats

// gatherCouplings lists the pairs of cells that cost more when both are caught, once for each repeat.
func (md *model) gatherCouplings() {
	cells := md.cellsByColumn()
	for at, here := range cells {
		for k, a := range here {
			for _, b := range here[k+1:] {
				md.couple(a, b, weightTwice.points())
			}
		}
		for step := -1; step <= 1 && md.fabric.comparable(at.row); step++ {
			for _, a := range cells[site{at.row - 1, at.stitch + step}] {
				for _, b := range here {
					md.couple(a, b, stackWeight(step))
				}
			}
		}
	}
}

// cellsByColumn is the cells that lie in each column of each row, over all repeats.
func (md *model) cellsByColumn() map[site][]int32 {
	cells := map[site][]int32{}
	for i := range md.choices {
		c := &md.choices[i]
		for _, fl := range md.copies(c) {
			for p := 1; p <= fl.Length; p++ {
				if c.shape.allowed(p) {
					at := md.fabric.siteIn(fl, p)
					at.stitch = md.fabric.stitchAt(at).Column
					cells[at] = append(cells[at], int32(c.node+p-1))
				}
			}
		}
	}
	return cells
}

func (md *model) couple(a, b int32, points int) {
	md.couplings = append(md.couplings, coupling{min(a, b), max(a, b), int64(points) * unit})
}
