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

// cover is the cells that lie in each column of a row, over all repeats; nil where none do.
type cover [][]int32

// covers lists the cells of every row by column.
func (md *model) covers() []cover {
	covers := make([]cover, len(md.fabric.Rows))
	for i := range md.choices {
		c := &md.choices[i]
		for _, fl := range md.copies(c) {
			for p := 1; p <= fl.Length; p++ {
				if !c.shape.allowed(p) {
					continue
				}
				at := md.fabric.siteIn(fl, p)
				if covers[at.row] == nil {
					covers[at.row] = make(cover, md.fabric.Rows[at.row].Columns())
				}
				column := md.fabric.stitchAt(at).Column
				covers[at.row][column] = append(covers[at.row][column], int32(c.node+p-1))
			}
		}
	}
	return covers
}

// coupleTwice couples the cells of each column, and coupleRows those of two rows.
func (md *model) coupleTwice(cv cover) {
	for _, cells := range cv {
		for k, a := range cells {
			for _, b := range cells[k+1:] {
				md.couple(a, b, weightTwice.points())
			}
		}
	}
}

func (md *model) coupleRows(below, above cover) {
	for column, cells := range above {
		for beside := max(0, column-1); beside <= min(column+1, len(below)-1); beside++ {
			for _, b := range cells {
				for _, a := range below[beside] {
					md.couple(a, b, stackWeight(beside-column))
				}
			}
		}
	}
}

func (md *model) couple(a, b int32, points int) {
	if a > b {
		a, b = b, a
	}
	md.couplings = append(md.couplings, coupling{a, b, int64(points) * unit})
}
