package floats

import (
	"cmp"
	"slices"
)

// spots finds the few stitches of a yarn that stand alone in a repeat, with one of all
// the floats beside them far over the limit, and joins those of rows above each other.
func (f *Fabric) spots(all []Float, limit int) []Spot {
	far := map[[2]int]bool{} // yarn and row
	for _, fl := range all {
		if fl.Length < Far*(limit+1) {
			continue
		}
		far[[2]int{fl.Yarn, fl.Row}] = true
		if fl.Kind == OverStart {
			far[[2]int{fl.Yarn, fl.Row + 1}] = true
		}
	}
	var spots []Spot
	for r := range f.Rows {
		for _, now := range f.spotsIn(r, far) {
			at := slices.IndexFunc(spots, func(s Spot) bool {
				return s.To == r-1 && s.Yarn == now.Yarn && s.Column-spotAcross <= now.Column && now.Column <= s.Column+spotAcross
			})
			if at < 0 {
				spots = append(spots, now)
				continue
			}
			s := &spots[at]
			s.To, s.Column, s.Stitches = r, min(s.Column, now.Column), s.Stitches+now.Stitches
		}
	}
	spots = slices.DeleteFunc(spots, func(s Spot) bool {
		return s.Stitches > spotStitches || s.To-s.From >= spotRows || !f.alone(s)
	})
	slices.SortFunc(spots, func(a, b Spot) int { return cmp.Or(a.From-b.From, a.To-b.To, a.Yarn-b.Yarn) })
	return spots
}

// spotsIn lists the yarns of a row that have a few stitches close together, no others in
// the repeat, and a far float.
func (f *Fabric) spotsIn(r int, far map[[2]int]bool) []Spot {
	row := &f.Rows[r]
	var spots []Spot
	for yarn, e := range row.uses {
		if e.first == 0 || e.last-e.first >= spotAcross || !far[[2]int{yarn, r}] {
			continue
		}
		s := Spot{Yarn: yarn, From: r, To: r, Column: len(row.Cells)}
		for _, st := range row.order[e.first-1 : e.last] {
			if st.Yarn == yarn {
				s.Stitches++
				s.Column = min(s.Column, st.Column+1)
			}
		}
		spots = append(spots, s)
	}
	return spots
}

// alone reports whether the yarn is worked in neither the row below the spot nor
// the row above it: else it is part of something larger.
func (f *Fabric) alone(s Spot) bool {
	for _, r := range []int{s.From - 1, s.To + 1} {
		if r >= 0 && r < len(f.Rows) && f.Rows[r].use(s.Yarn).first != 0 {
			return false
		}
	}
	return true
}
