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
	var floats []Float
	for r := lo; r < hi; r++ {
		for _, fl := range f.RowFloats(r, restLimit) {
			if fl.Row == r {
				floats = append(floats, fl)
			}
		}
	}
	return floats
}

// RowFloats lists the floats that have a stitch in one row (index into Rows), in
// every repeat, ordered as Floats orders them. It looks only at the rows a yarn can
// reach over, so it takes time linear in the stitches of the row.
func (f *Fabric) RowFloats(row, restLimit int) []Float {
	floats := f.within(row)
	for _, j := range f.jointsAt(row, restLimit) {
		for _, fl := range j.floats(restLimit) {
			if f.reaches(fl, row) {
				floats = append(floats, fl)
			}
		}
	}
	slices.SortFunc(floats, func(a, b Float) int {
		return cmp.Or(a.Row-b.Row, a.Stitch-b.Stitch, a.Yarn-b.Yarn)
	})
	return floats
}

func (f *Fabric) reaches(fl Float, row int) bool {
	return fl.Row == row || fl.Kind == OverStart && fl.Row+1 == row && fl.Stitch-1+fl.Length > f.Rows[fl.Row].Stitches()
}

// Rests lists the yarns that wait for whole rows between two uses, ordered by the
// row in which they are used again and by yarn.
func (f *Fabric) Rests(restLimit int) []Rest {
	var rests []Rest
	for r := range f.Rows {
		for _, j := range f.jointsAt(r, len(f.Rows)) {
			if j.upper == r {
				rests = append(rests, j.rests(restLimit)...)
			}
		}
	}
	return rests
}

// RowRests lists the yarns that rest in one row, ordered by yarn.
func (f *Fabric) RowRests(row, restLimit int) []Rest {
	var rests []Rest
	for _, j := range f.jointsAt(row, len(f.Rows)) {
		if j.lower < row && row < j.upper {
			rests = append(rests, j.rests(restLimit)...)
		}
	}
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

// jointsAt finds the ways of yarns that lead into, out of or past a row, by yarn, looking
// at most reach+1 rows down and up.
func (f *Fabric) jointsAt(row, reach int) []joint {
	var joints []joint
	for y := range f.Yarns {
		lower, upper := f.seek(y, row, -1, reach), f.seek(y, row, +1, reach)
		switch used := f.Rows[row].use(y).first > 0; {
		case used && lower >= 0:
			joints = append(joints, joint{f, y, lower, row})
			fallthrough
		case used:
			lower = row
		}
		if lower >= 0 && upper >= 0 {
			joints = append(joints, joint{f, y, lower, upper})
		}
	}
	return joints
}

// seek finds the nearest row beyond the given one that uses a yarn, or -1.
func (f *Fabric) seek(yarn, row, step, reach int) int {
	for r := row + step; r >= 0 && r < len(f.Rows) && (r-row)*step <= reach+1; r += step {
		if f.Rows[r].use(yarn).first > 0 {
			return r
		}
	}
	return -1
}

func (j joint) resting() int { return j.upper - j.lower - 1 }

func (j joint) across() bool { return j.f.Flat && j.resting()%2 == 1 }

func (j joint) rests(limit int) []Rest {
	if j.resting() == 0 {
		return nil
	}
	cut := j.resting() > limit
	return []Rest{{Yarn: j.yarn, FromRow: j.lower + 1, ToRow: j.upper - 1, Cut: cut, Across: j.across() && !cut}}
}

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
