package floats

import (
	"cmp"
	"slices"
)

// Survey is what a designer wants to know of a fabric before it is knitted. Rows stand in order,
// the lowest first; but where it is said, they are indexes into Fabric.Rows.
type Survey struct {
	Lengths   []LengthCount // every length of float there is, the shortest first
	Caught    []int         // rows with a catch, from 1
	Stacks    []Stack       // catches of the plan in one column of adjacent rows
	Near      int           // pairs of catches in neighboring columns of adjacent rows
	Crowded   []int         // rows worked in three yarns or more, from 1
	OverStart []Float       // too long over the start of the round, though neither piece is by itself
	Rests     []Rest
	Ladders   []Ladder
	Spots     []Spot
}

// LengthCount is how many floats of a length there are, over all repeats.
type LengthCount struct {
	Length int // stitches
	ByYarn []int
	Count  int
}

// Stack is where catches of two adjacent rows stand in one column and pile up into a ridge.
type Stack struct {
	Row    int // of the upper catch; the lower one is in the row below
	Column int // within the repeat, from 1
	Lower  int // the yarn caught below
	Upper  int // and above
	Count  int // in how many repeats
}

// Far is from how many limits on a float takes three catches and more. Our choice.
const Far = 3

// ladderRows is in how many rows above each other floats must be far over the limit
// before a ladder pays; spotStitches and spotRows is how small a spot is. Our choice.
const (
	ladderRows   = 4
	spotAcross   = 3
	spotRows     = 6
	spotStitches = 12
)

// Ladder is a block of floats of one yarn far over the limit, row above row: a
// ladder of extra stitches at the back may serve better than that many catches.
type Ladder struct {
	Yarn     int
	From, To int // rows, both in
	Longest  int // stitches of the longest float
}

// Spot is a few stitches of a yarn alone among floats far over the limit: they may
// be worked as duplicate stitch when the piece is finished.
type Spot struct {
	Yarn     int
	From, To int // rows, both in
	Column   int // its rightmost, in the pattern, from 1
	Stitches int // in the pattern
}

// Survey looks over the fabric with its plan. It takes time linear in the stitches.
func (f *Fabric) Survey(p *Plan, restLimit int) *Survey {
	s := &Survey{Rests: f.Rests(restLimit), Crowded: f.crowded()}
	all := f.Floats(restLimit)
	s.Lengths = lengthsOf(all, len(f.Yarns))
	for _, c := range p.Catches {
		s.Caught = append(s.Caught, c.Row+1)
	}
	s.Caught = slices.Compact(s.Caught)
	s.Stacks, s.Near = f.stacks(p.Catches)
	for _, fl := range all {
		if fl.Kind == OverStart && fl.Length > p.Limit && f.pieces(fl) <= p.Limit {
			s.OverStart = append(s.OverStart, fl)
		}
	}
	s.Ladders = f.ladders(all, p.Limit)
	s.Spots = f.spots(all, p.Limit)
	return s
}

func (f *Fabric) pieces(fl Float) int {
	below := min(fl.Length, f.Rows[fl.Row].Stitches()-fl.Stitch+1)
	return max(below, fl.Length-below)
}

func lengthsOf(all []Float, yarns int) []LengthCount {
	var counts []LengthCount
	for _, fl := range all {
		at, found := slices.BinarySearchFunc(counts, fl.Length, func(c LengthCount, n int) int { return c.Length - n })
		if !found {
			counts = slices.Insert(counts, at, LengthCount{Length: fl.Length, ByYarn: make([]int, yarns)})
		}
		counts[at].ByYarn[fl.Yarn]++
		counts[at].Count++
	}
	return counts
}

func (f *Fabric) crowded() []int {
	var rows []int
	for r := range f.Rows {
		used := 0
		for y := range f.Yarns {
			used += min(1, f.Rows[r].use(y).first)
		}
		if used > 2 {
			rows = append(rows, r+1)
		}
	}
	return rows
}

// stacks finds stacks, those alike in several repeats as one, and counts near pairs.
func (f *Fabric) stacks(catches []Catch) (stacks []Stack, near int) {
	caught := map[site][]int{} // yarns caught, by row and column over all repeats
	for _, c := range catches {
		at := site{c.Row, f.column(c)}
		caught[at] = append(caught[at], c.Yarn)
	}
	count := map[Stack]int{}
	for _, c := range catches {
		if !f.comparable(c.Row) {
			continue
		}
		below, column := c.Row-1, f.column(c)
		near += len(caught[site{below, column - 1}]) + len(caught[site{below, column + 1}])
		for _, lower := range caught[site{below, column}] {
			count[Stack{c.Row, f.Rows[c.Row].PatternColumn(column) + 1, lower, c.Yarn, 0}]++
		}
	}
	for s, n := range count {
		s.Count = n
		stacks = append(stacks, s)
	}
	slices.SortFunc(stacks, func(a, b Stack) int {
		return cmp.Or(a.Row-b.Row, a.Column-b.Column, a.Lower-b.Lower, a.Upper-b.Upper)
	})
	return stacks, near
}

// reach is the columns a float lies behind, over all repeats.
type reach struct{ lo, hi, length int }

func (f *Fabric) reach(fl Float) reach {
	a := f.stitchAt(site{fl.Row, fl.Stitch - 1}).Column
	b := f.stitchAt(site{fl.Row, fl.Stitch + fl.Length - 2}).Column
	return reach{min(a, b), max(a, b), fl.Length}
}

// ladders finds, for each yarn, rows above each other whose longest floats are far
// over the limit and lie over each other for more than a limit's columns.
func (f *Fabric) ladders(all []Float, limit int) []Ladder {
	longest := map[[2]int]reach{} // by yarn and row
	for _, fl := range all {
		key := [2]int{fl.Yarn, fl.Row}
		if fl.Length >= Far*(limit+1) && fl.Kind != OverStart && longest[key].length < fl.Length {
			longest[key] = f.reach(fl)
		}
	}
	var ladders []Ladder
	for yarn := range f.Yarns {
		l, last := Ladder{Yarn: yarn}, reach{}
		for r := range len(f.Rows) + 1 {
			now := longest[[2]int{yarn, r}]
			if goesOn := now.length > 0 && min(now.hi, last.hi)-max(now.lo, last.lo) >= limit; last.length > 0 && !goesOn {
				if l.To-l.From+1 >= ladderRows {
					ladders = append(ladders, l)
				}
				last.length = 0
			}
			if last.length == 0 {
				l.From, l.Longest = r, 0
			}
			l.To, l.Longest, last = r, max(l.Longest, now.length), now
		}
	}
	slices.SortStableFunc(ladders, func(a, b Ladder) int { return a.From - b.From })
	return ladders
}

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

// spotsIn lists the yarns of a row that have a far float and few stitches, close together.
func (f *Fabric) spotsIn(r int, far map[[2]int]bool) []Spot {
	row := &f.Rows[r]
	var spots []Spot
	for yarn := range f.Yarns {
		e := row.use(yarn)
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

// alone reports whether no stitch above or below makes the spot a part of something larger.
func (f *Fabric) alone(s Spot) bool {
	for _, r := range []int{s.From - 1, s.To + 1} {
		if r >= 0 && r < len(f.Rows) && f.Rows[r].use(s.Yarn).first != 0 {
			return false
		}
	}
	return true
}
