package floats

// gatherCouplings lists the pairs of cells that cost more when both are caught:
// one above another, side by side in adjacent rows, and two yarns at one stitch.
// Repeats alike add up on the same pair.
func (md *model) gatherCouplings() {
	covers := md.covers()
	for r := range covers {
		md.coupleTwice(covers[r])
		if r > 0 && md.fabric.comparable(r) {
			md.coupleRows(covers[r-1], covers[r])
		}
	}
}

// cover lists, per column of a row over all repeats, the cells that lie there.
type cover struct {
	head []int32 // by column: index into list + 1, 0 for none
	list []covered
}

type covered struct {
	cell int32
	next int32 // as head
}

// covers lists the cells of every row by column.
func (md *model) covers() []cover {
	covers := make([]cover, len(md.fabric.Rows))
	for i := range md.choices {
		c := &md.choices[i]
		for p := 1; p <= c.Length; p++ {
			if !c.shape.allowed(p) {
				continue
			}
			for rep := range c.stand {
				at := md.siteOf(c, p, rep)
				covers[at.row].add(md.fabric, at, int32(c.node+p-1))
			}
		}
	}
	return covers
}

func (cv *cover) add(f *Fabric, at site, cell int32) {
	if cv.head == nil {
		cv.head = make([]int32, f.Rows[at.row].Columns())
	}
	column := f.stitchAt(at).Column
	cv.list = append(cv.list, covered{cell, cv.head[column]})
	cv.head[column] = int32(len(cv.list))
}

// each calls do with every cell in a column.
func (cv *cover) each(column int, do func(cell int32)) {
	if column < 0 || column >= len(cv.head) {
		return
	}
	for i := cv.head[column]; i > 0; i = cv.list[i-1].next {
		do(cv.list[i-1].cell)
	}
}

func (md *model) coupleTwice(cv cover) {
	for column := range cv.head {
		cv.each(column, func(a int32) {
			cv.each(column, func(b int32) {
				if a < b {
					md.couple(a, b, weightTwice)
				}
			})
		})
	}
}

func (md *model) coupleRows(below, above cover) {
	for column := range above.head {
		above.each(column, func(b int32) {
			below.each(column-1, func(a int32) { md.couple(a, b, weightNear) })
			below.each(column, func(a int32) { md.couple(a, b, weightStack) })
			below.each(column+1, func(a int32) { md.couple(a, b, weightNear) })
		})
	}
}

func (md *model) couple(a, b int32, w weight) {
	if a > b {
		a, b = b, a
	}
	md.couplings = append(md.couplings, coupling{a, b, int64(w.points()) * unit})
}
