package floats

import (
	"cmp"
	"slices"
)

// unit is how many of the model's cost units make one point of the score. The dual methods share
// points out in parts; with whole units every sharing is exact and every bound true.
const unit = 64

// choice is one decision of the plan: the catches of one float, or of all the
// copies of a float that stands in every repeat alike.
type choice struct {
	Float     // the first copy
	stand int // how many copies stand side by side
	node  int // the model's number of the cell at position 1
	shape *shape
	self  bool // has couplings among its own cells
}

// coupling is the price of two cells both caught. The cells belong to two choices,
// or to one float over the start that meets itself a round higher.
type coupling struct {
	a, b   int32 // cells, a < b
	weight int64 // in units, over all repeats
}

// model is a piece as a sum to be minimized: per choice a path (its cells' own costs and its
// gaps), and couplings between cells. Only the floats longer than the limit are in it. A cell is
// one position of one choice, numbered through all choices in order.
type model struct {
	fabric    *Fabric
	lo, hi    int // the band of rows in which its floats begin, hi out
	limit     int
	method    Method
	choices   []choice // ordered by row, stitch, yarn
	own       []int64  // per cell: its cost in units over all copies
	owner     []int32  // per cell: its choice
	couplings []coupling
	ends      [][]end // the couplings of each cell, by the other cell
}

type end struct{ cell, coupling int32 }

// newModel states a band of the piece as a model, the copies of a float alike or each by itself.
// It takes time linear in the stitches.
func newModel(f *Fabric, t Task, lo, hi int, alike bool) *model {
	md := &model{fabric: f, lo: lo, hi: hi, limit: t.Limit, method: t.Method}
	md.gatherChoices(t.RestLimit, alike)
	md.priceCells()
	md.gatherCouplings()
	md.index()
	return md
}

func (md *model) gatherChoices(restLimit int, alike bool) {
	shapes := map[int]*shape{} // by length
	for _, fl := range md.fabric.floatsFrom(md.lo, md.hi, restLimit) {
		if fl.Length <= md.limit {
			continue
		}
		stand := 1
		if fl.Kind == Within && alike {
			var first int
			if first, stand = md.fabric.Rows[fl.Row].copies(fl); first != fl.Stitch {
				continue
			}
		}
		if shapes[fl.Length] == nil {
			shapes[fl.Length] = newShape(rulesFor(fl.Length, md.limit, md.method))
		}
		md.choices = append(md.choices, choice{Float: fl, stand: stand, node: len(md.owner), shape: shapes[fl.Length]})
		for range fl.Length {
			md.owner = append(md.owner, int32(len(md.choices)-1))
		}
	}
}

type site struct{ row, stitch int } // stitch from 0 over the whole row

func (md *model) copies(c *choice) []Float {
	all := make([]Float, c.stand)
	for rep := range all {
		all[rep] = c.Float
		if rep > 0 {
			all[rep].Stitch += rep * md.fabric.Rows[c.Row].BlockAt(c.Stitch-1).Stitches
		}
	}
	return all
}

func (md *model) priceCells() {
	md.own = make([]int64, len(md.owner))
	price := pricing{md.fabric, md.method, showTable(md.fabric.Yarns)}
	for i := range md.choices {
		md.addPrices(&md.choices[i], price.catch)
	}
}

// addPrices adds to the cells of a choice what a catch costs in points on each of its copies.
func (md *model) addPrices(c *choice, price func(at site, yarn int) int) (points int) {
	for _, fl := range md.copies(c) {
		for p := 1; p <= fl.Length; p++ {
			more := price(md.fabric.siteIn(fl, p), fl.Yarn)
			md.own[c.node+p-1] += int64(more) * unit
			points += more
		}
	}
	return points
}

// priceBeside adds to the cells what they cost beside catches that stand already, and lists the
// choices that meet any.
func (md *model) priceBeside(fixed []Catch) (meet []int) {
	beside := md.fabric.beside(fixed)
	for i := range md.choices {
		if md.addPrices(&md.choices[i], beside) > 0 {
			meet = append(meet, i)
		}
	}
	return meet
}

// index sorts the couplings, joins those of the same two cells and lists them by cell.
func (md *model) index() {
	slices.SortFunc(md.couplings, func(x, y coupling) int {
		return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
	})
	joined := md.couplings[:0]
	for _, c := range md.couplings {
		if last := len(joined) - 1; last >= 0 && joined[last].a == c.a && joined[last].b == c.b {
			joined[last].weight += c.weight
			continue
		}
		joined = append(joined, c)
	}
	md.couplings = joined
	md.ends = make([][]end, len(md.own))
	for i, c := range joined {
		md.ends[c.a] = append(md.ends[c.a], end{c.b, int32(i)})
		md.ends[c.b] = append(md.ends[c.b], end{c.a, int32(i)})
		if md.owner[c.a] == md.owner[c.b] {
			md.choices[md.owner[c.a]].self = true
		}
	}
}

// endsIn lists the couplings of a cell with cells from one on to another, that one out.
func (md *model) endsIn(cell, from, to int) []end {
	ends := md.ends[cell]
	for len(ends) > 0 && int(ends[0].cell) < from {
		ends = ends[1:]
	}
	n := 0
	for n < len(ends) && int(ends[n].cell) < to {
		n++
	}
	return ends[:n]
}
