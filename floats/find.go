package floats

import (
	"cmp"
	"slices"
)

// Floats lists every float of the fabric, those within the limit too, in every repeat, ordered by
// row, stitch and yarn. A yarn that rests for more than restLimit rows is cut and has no float
// there. It takes time linear in the stitches.
//
// The rows are taken end to end in knitting order. Between two uses of a yarn in one row lies a
// Within float. In the round two adjacent rows share one OverStart float, since a round is a
// spiral: two pieces each short enough can be too long together. In every other case the yarn
// waits at the edge, anchored there, with a ToEdge float before and a FromEdge float after; flat
// work that rests an odd number of rows leaves it at the wrong edge, from where it crosses the
// last resting row as an Across float. A yarn has no float before its first use or after its
// last.
func (f *Fabric) Floats(restLimit int) []Float { return f.floatsFrom(0, len(f.Rows), restLimit) }

// floatsFrom lists the floats that begin in a band of rows, hi out, in order.
func (f *Fabric) floatsFrom(lo, hi, restLimit int) []Float {
	return slices.DeleteFunc(f.floatsNear(lo, hi, restLimit), func(fl Float) bool { return fl.Row < lo || fl.Row >= hi })
}

// RowFloats lists the floats that have a stitch in one row (index into Rows), as Floats does.
func (f *Fabric) RowFloats(row, restLimit int) []Float {
	return slices.DeleteFunc(f.floatsNear(row, row+1, restLimit), func(fl Float) bool {
		return fl.Row != row && f.siteIn(fl, fl.Length).row != row
	})
}

// floatsNear lists, in order, all floats that have a stitch in a band of rows, and more of the
// yarns that go into, out of or past it.
func (f *Fabric) floatsNear(lo, hi, restLimit int) []Float {
	var floats []Float
	for r := lo; r < hi; r++ {
		floats = append(floats, f.within(r)...)
	}
	for _, j := range f.joints(f.around(lo, hi, restLimit)) {
		if j.lower < hi && j.upper >= lo {
			floats = append(floats, j.floats(restLimit)...)
		}
	}
	slices.SortFunc(floats, func(a, b Float) int {
		return cmp.Or(a.Row-b.Row, a.Stitch-b.Stitch, a.Yarn-b.Yarn)
	})
	return floats
}

// Rests lists the yarns that rest, ordered by the row in which they are used again and by yarn.
func (f *Fabric) Rests(restLimit int) []Rest {
	return f.restsOf(f.joints(0, len(f.Rows)), restLimit)
}

func (f *Fabric) restsOf(joints []joint, restLimit int) (rests []Rest) {
	for _, j := range joints {
		if cut := j.resting() > restLimit; j.resting() > 0 {
			rests = append(rests, Rest{j.yarn, j.lower + 1, j.upper - 1, cut, j.across() && !cut})
		}
	}
	return rests
}

// RowRests lists the yarns that rest in one row, ordered by yarn.
func (f *Fabric) RowRests(row, restLimit int) []Rest {
	joints := f.joints(f.around(row, row+1, len(f.Rows)))
	rests := slices.DeleteFunc(f.restsOf(joints, restLimit), func(r Rest) bool { return row < r.FromRow || r.ToRow < row })
	slices.SortFunc(rests, func(a, b Rest) int { return a.Yarn - b.Yarn })
	return rests
}

// within lists the floats between two uses in one row, over all repeats.
func (f *Fabric) within(r int) []Float {
	lastUse := make([]int, len(f.Yarns))
	var floats []Float
	for at, s := range f.Rows[r].All() {
		if from := lastUse[s.Yarn]; from > 0 && at-from > 1 {
			floats = append(floats, Float{s.Yarn, Within, r, from + 1, at - from - 1})
		}
		lastUse[s.Yarn] = at
	}
	return floats
}

// joint is the way of one yarn between its last use in one row and its first use in a later one.
type joint struct {
	f            *Fabric
	yarn         int
	lower, upper int // rows
}

// around widens a band of rows, hi out, until it has a use of every yarn below and above it, by at most
// reach rows and one each way.
func (f *Fabric) around(lo, hi, reach int) (from, to int) {
	from, to = lo, hi
	below, above := map[int]bool{}, map[int]bool{}
	for ; from > 0 && lo-from <= reach && len(below) < len(f.Yarns); from-- {
		f.markUses(from-1, below)
	}
	for ; to < len(f.Rows) && to-hi <= reach && len(above) < len(f.Yarns); to++ {
		f.markUses(to, above)
	}
	return from, to
}

func (f *Fabric) markUses(row int, used map[int]bool) {
	for y := range f.Yarns {
		if f.Rows[row].use(y).first > 0 {
			used[y] = true
		}
	}
}

// joints lists the ways of yarns between the rows of a band, hi out, by upper row and yarn.
func (f *Fabric) joints(lo, hi int) (joints []joint) {
	last := slices.Repeat([]int{-1}, len(f.Yarns)) // row of the last use
	for r := lo; r < hi; r++ {
		for y := range f.Yarns {
			if f.Rows[r].use(y).first == 0 {
				continue
			}
			if last[y] >= 0 {
				joints = append(joints, joint{f, y, last[y], r})
			}
			last[y] = r
		}
	}
	return joints
}

func (j joint) resting() int { return j.upper - j.lower - 1 }

func (j joint) across() bool { return j.f.Flat && j.resting()%2 == 1 }

func (j joint) floats(restLimit int) []Float {
	below := &j.f.Rows[j.lower]
	leave := below.used(j.yarn).last
	rest, before := below.Stitches()-leave, j.f.Rows[j.upper].used(j.yarn).first-1
	if !j.f.Flat && j.resting() == 0 {
		if rest == 0 {
			return j.piece(nil, OverStart, j.upper, 1, before)
		}
		return j.piece(nil, OverStart, j.lower, leave+1, rest+before)
	}
	if j.resting() > restLimit {
		return nil
	}
	floats := j.piece(nil, ToEdge, j.lower, leave+1, rest)
	if j.across() {
		floats = j.piece(floats, Across, j.upper-1, 1, j.f.Rows[j.upper-1].Stitches())
	}
	return j.piece(floats, FromEdge, j.upper, 1, before)
}

func (j joint) piece(floats []Float, k Kind, row, stitch, length int) []Float {
	if length == 0 {
		return floats
	}
	return append(floats, Float{j.yarn, k, row, stitch, length})
}
