package floats

import "slices"

// RowFloats lists the floats that have a stitch in one row (index into Rows), in
// every repeat, ordered as Floats orders them. It looks only at the rows a yarn can
// reach over, so it takes time linear in the stitches of those few rows.
func (f *Fabric) RowFloats(row, restLimit int) []Float {
	floats := f.within(row)
	for _, j := range f.jointsAt(row, restLimit) {
		for _, fl := range j.floats(restLimit) {
			if f.reaches(fl, row) {
				floats = append(floats, fl)
			}
		}
	}
	slices.SortFunc(floats, compareFloats)
	return floats
}

// RowRests lists the yarns that rest in one row, ordered by yarn.
func (f *Fabric) RowRests(row, restLimit int) []Rest {
	var rests []Rest
	for _, j := range f.jointsAt(row, len(f.Rows)) {
		if j.lower < row && row < j.upper {
			rests = append(rests, j.rests(restLimit)...)
		}
	}
	slices.SortFunc(rests, func(a, b Rest) int { return a.Yarn - b.Yarn })
	return rests
}

// reaches reports whether a float has a stitch in a row.
func (f *Fabric) reaches(fl Float, row int) bool {
	if fl.Row == row {
		return true
	}
	return fl.Kind == OverStart && fl.Row+1 == row && fl.Stitch-1+fl.Length > f.Rows[fl.Row].Stitches()
}

// jointsAt finds the ways of yarns that lead into, out of or past a row, looking at
// most reach+1 rows down and up.
func (f *Fabric) jointsAt(row, reach int) []joint {
	var joints []joint
	here := f.extents(row)
	for y := range f.Yarns {
		lower, leaves := f.seek(y, row-1, -1, reach)
		upper, meets := f.seek(y, row+1, +1, reach)
		switch {
		case here[y].first == 0:
			if lower >= 0 && upper >= 0 {
				joints = append(joints, joint{f, y, lower, upper, leaves, meets})
			}
			continue
		case lower >= 0:
			joints = append(joints, joint{f, y, lower, row, leaves, here[y]})
		}
		if upper >= 0 {
			joints = append(joints, joint{f, y, row, upper, here[y], meets})
		}
	}
	return joints
}

// seek finds the nearest row that uses a yarn, from a row on in steps, or -1.
func (f *Fabric) seek(yarn, from, step, reach int) (int, extent) {
	for r := from; r >= 0 && r < len(f.Rows) && (r-from)*step <= reach; r += step {
		if e := f.extentOf(yarn, r); e.first > 0 {
			return r, e
		}
	}
	return -1, extent{}
}

func (f *Fabric) extentOf(yarn, row int) extent {
	var e extent
	for i, s := range f.Rows[row].order {
		if s.Yarn != yarn {
			continue
		}
		if e.first == 0 {
			e.first = i + 1
		}
		e.last = i + 1
	}
	return e
}
