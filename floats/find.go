package floats

import "slices"

// Floats lists every float of the fabric, those within the limit too, in every
// repeat, ordered by row, stitch and yarn. A yarn that rests for more than
// restLimit rows is cut and has no float there. It takes time linear in the
// stitches.
//
// The rows are taken end to end in knitting order. Between two uses of a yarn in
// one row lies a Within float. In the round two adjacent rows share one OverStart
// float, since a round is a spiral: two pieces each short enough can be too long
// together. In every other case the yarn waits at the edge, anchored there, with a
// ToEdge float before and a FromEdge float after; flat work that rests an odd
// number of rows leaves it at the wrong edge, from where it crosses the last
// resting row as an Across float. A yarn has no float before its first use or
// after its last.
func (f *Fabric) Floats(restLimit int) []Float {
	var floats []Float
	f.eachRow(restLimit, func(between []Float, _ []Rest, within []Float) {
		floats = append(floats, between...)
		floats = append(floats, within...)
	})
	slices.SortFunc(floats, compareFloats)
	return floats
}

// floatsFrom lists the floats that begin in a band of rows, hi out, in order.
func (f *Fabric) floatsFrom(lo, hi, restLimit int) []Float {
	if lo == 0 && hi == len(f.Rows) {
		return f.Floats(restLimit)
	}
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

// Rests lists the yarns that wait for whole rows between two uses, ordered by the
// row in which they are used again and by yarn.
func (f *Fabric) Rests(restLimit int) []Rest {
	var rests []Rest
	f.eachRow(restLimit, func(_ []Float, r []Rest, _ []Float) { rests = append(rests, r...) })
	return rests
}

func compareFloats(a, b Float) int {
	if a.Row != b.Row {
		return a.Row - b.Row
	}
	if a.Stitch != b.Stitch {
		return a.Stitch - b.Stitch
	}
	return a.Yarn - b.Yarn
}

// extent is where a yarn is used in one repeat of a row: its first and last stitch
// in knitting order from 1, or zeros.
type extent struct{ first, last int }

// eachRow visits the rows in order and hands over what ends in each: the floats
// that reach it from an earlier row, the rests that end before it, and the floats
// within it.
func (f *Fabric) eachRow(restLimit int, visit func(between []Float, rests []Rest, within []Float)) {
	last := make([]int, len(f.Yarns)) // row of last use + 1, 0 for none
	var below []extent
	extents := make([][]extent, len(f.Rows))
	for r := range f.Rows {
		below = f.extents(r)
		extents[r] = below
		var between []Float
		var rests []Rest
		for y, e := range below {
			if e.first == 0 {
				continue
			}
			if from := last[y] - 1; from >= 0 {
				joint := joint{f, y, from, r, extents[from][y], e}
				between = append(between, joint.floats(restLimit)...)
				rests = append(rests, joint.rests(restLimit)...)
			}
			last[y] = r + 1
		}
		visit(between, rests, f.within(r))
	}
}

func (f *Fabric) extents(r int) []extent {
	ext := make([]extent, len(f.Yarns))
	for i, s := range f.Rows[r].order {
		e := &ext[s.Yarn]
		if e.first == 0 {
			e.first = i + 1
		}
		e.last = i + 1
	}
	return ext
}

// within lists the floats between two uses in one row, over all repeats.
func (f *Fabric) within(r int) []Float {
	row := &f.Rows[r]
	order := f.Rows[r].order
	lastUse := make([]int, len(f.Yarns))
	var floats []Float
	for rep := range row.Repeats {
		for i, s := range order {
			at := rep*len(order) + i + 1
			if from := lastUse[s.Yarn]; from > 0 && at-from > 1 {
				floats = append(floats, Float{s.Yarn, Within, r, from + 1, at - from - 1})
			}
			lastUse[s.Yarn] = at
		}
	}
	return floats
}

// joint is the way of one yarn between its last use in one row and its first use
// in a later one.
type joint struct {
	f             *Fabric
	yarn          int
	lower, upper  int // rows
	leaves, meets extent
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
	leave := (below.Repeats-1)*below.RepeatStitches() + j.leaves.last
	rest, before := below.Stitches()-leave, j.meets.first-1
	if !j.f.Flat && j.resting() == 0 {
		return j.overStart(leave+1, rest, before)
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

func (j joint) overStart(stitch, rest, before int) []Float {
	if rest == 0 {
		return j.piece(nil, OverStart, j.upper, 1, before)
	}
	return j.piece(nil, OverStart, j.lower, stitch, rest+before)
}

func (j joint) piece(floats []Float, k Kind, row, stitch, length int) []Float {
	if length == 0 {
		return floats
	}
	return append(floats, Float{j.yarn, k, row, stitch, length})
}
