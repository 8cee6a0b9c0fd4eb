package session

import (
	"fmt"
	"strings"

	"strandwise/chart"
)

// Review looks back on a piece, finished or under way: what became of its catches, how its strands lie,
// what to mend. It says nothing of rows to come.
type Review struct {
	Piece string
	Row   int          // finished rows
	Yarns []chart.Yarn // all else tells yarns by index

	Catches Tally       // of all finished rows
	Rows    []RowReview // index 0 is row 1
	ByYarn  []YarnReview
	Stacked []Meeting // catches above each other, in order
	Near    []Meeting // catches one column apart in adjacent rows, in order
	Mending []Gap     // every gap over its limit, the most urgent first
	Pace    Pace
	Pair    *PairReview // nil but for the second of a pair
}

// Tally counts catches.
type Tally struct {
	Planned     int `json:"planned"` // shown by the sheets the rows were worked from
	Used        int `json:"used"`    // made
	Moved       int `json:"moved"`   // made on another stitch than shown
	Missed      int `json:"missed"`
	Extra       int `json:"extra"`
	Unwitnessed int `json:"unwitnessed"` // of those made, in rows that were logged afterwards
}

// RowReview is what became of one row.
type RowReview struct {
	Row         int                `json:"row"` // from 1
	Unwitnessed bool               `json:"unwitnessed"`
	Tally       Tally              `json:"catches"`
	Changes     Changes            `json:"-"`
	ByYarn      map[chart.Yarn]int `json:"by_yarn"` // catches made; yarns without one are left out
}

// YarnReview is what became of one yarn.
type YarnReview struct {
	Yarn    int
	Floats  int // short ones too
	Caught  int // floats with a catch
	Catches int
	Longest Gap // of all its floats, the first of two alike; none has 0 stitches
}

// Meeting is two catches in adjacent rows, above each other or one column apart. Only rows of as many columns meet, and not across the edge.
type Meeting struct {
	Row          int // the upper one, from 1
	Upper, Under Mark
}

// Review looks back. First is the first of the pair when this piece is the second and that is at hand, else
// nil. The time is linear in the stitches of the piece, the sorting of the gaps apart.
func (p *Piece) Review(first *Piece) *Review {
	s := p.State
	r := &Review{Piece: s.Setup.Name, Row: s.Row, Yarns: p.Layout.Fabric.Yarns, Pace: p.Pace()}
	for _, done := range s.DoneRows {
		r.addRow(p, *done)
	}
	for row := 2; row <= s.Row; row++ {
		r.meet(p, s.DoneRow(row), s.DoneRow(row-1))
	}
	r.addStrands(p.Strands(s.Row, p.used))
	if first != nil {
		r.Pair = r.pairWith(first.Review(nil))
	}
	return r
}

// stitchesIn is how many stitches a row has; none for one ripped back that is no longer in the piece.
func (p *Piece) stitchesIn(row int) int {
	if row > p.Rows() {
		return 0
	}
	return p.Row(row).Stitches()
}

func (r *Review) addRow(p *Piece, done DoneRow) {
	c := p.Changes(done.Row)
	row := RowReview{
		Row: done.Row, Changes: c, Unwitnessed: done.Unwitnessed, ByYarn: map[chart.Yarn]int{},
		Tally: Tally{Planned: len(done.Shown), Used: len(done.Used), Moved: len(c.Moved), Missed: len(c.Missed), Extra: len(c.Extra)},
	}
	if done.Unwitnessed {
		row.Tally.Unwitnessed = len(done.Used)
	}
	for _, m := range done.Used {
		if m.Yarn < len(r.Yarns) {
			row.ByYarn[r.Yarns[m.Yarn]]++
		}
	}
	r.Rows = append(r.Rows, row)
	r.Catches.add(row.Tally)
}

func (t *Tally) add(o Tally) {
	t.Planned += o.Planned
	t.Used += o.Used
	t.Moved += o.Moved
	t.Missed += o.Missed
	t.Extra += o.Extra
	t.Unwitnessed += o.Unwitnessed
}

func (r *Review) addStrands(strands []Strand) {
	r.ByYarn = make([]YarnReview, len(r.Yarns))
	for y, yarn := range r.Yarns {
		r.ByYarn[y].Yarn = y
		for _, row := range r.Rows {
			r.ByYarn[y].Catches += row.ByYarn[yarn]
		}
	}
	for _, st := range strands {
		of := &r.ByYarn[st.Yarn]
		of.Floats++
		if len(st.Caught) > 0 {
			of.Caught++
		}
		for _, g := range st.Gaps {
			if g.Stitches > of.Longest.Stitches {
				of.Longest = g
			}
		}
	}
	r.Mending = gapsOver(strands)
	sortByUrgency(r.Mending)
}

func (r *Review) meet(p *Piece, upper, lower DoneRow) {
	row, below := p.Row(upper.Row), p.Row(lower.Row)
	if row.Columns() != below.Columns() {
		return
	}
	columns := map[int][]Mark{}
	for _, m := range lower.Used {
		if column := ColumnOf(below, m.Stitch); column > 0 {
			columns[column] = append(columns[column], m)
		}
	}
	for _, m := range upper.Used {
		column := ColumnOf(row, m.Stitch)
		for step := -1; step <= 1 && column > 0; step++ {
			to := &r.Near
			if step == 0 {
				to = &r.Stacked
			}
			for _, o := range columns[column+step] {
				*to = append(*to, Meeting{upper.Row, m, o})
			}
		}
	}
}

// MeetingWords tells where catches meet, a line a row, those alike in several repeats together:
// "round 12 above round 11: catch a above catch c in every repeat".
func (p *Piece) MeetingWords(meetings []Meeting) []string {
	var lines []string
	for len(meetings) > 0 {
		row := meetings[0].Row
		upper, under, g := p.rowShown(row), p.rowShown(row-1), newGrouping(p.Row(row).Course)
		for ; len(meetings) > 0 && meetings[0].Row == row; meetings = meetings[1:] {
			m := meetings[0]
			g.add(m.Upper.Stitch, upper.catchName(m.Upper)+" above "+under.catchName(m.Under))
		}
		lines = append(lines, fmt.Sprintf("%s %d above %s %d: %s", p.rowWord(), row, p.rowWord(), row-1, strings.Join(g.lines(), ", ")))
	}
	return lines
}

// PairReview sets the second of a pair beside the first, over the rows finished in both.
type PairReview struct {
	First         string   `json:"first"`
	Rows          int      `json:"rows"`
	This          PairSide `json:"this"`
	Other         PairSide `json:"other"`
	CatchesDiffer []int    `json:"catches_differ_in_rows"`
}

// PairSide is one of the pair; longest gap and time are of its whole piece so far.
type PairSide struct {
	Used      int     `json:"used"`         // catches made
	Mending   int     `json:"mending"`      // gaps over the limit
	Longest   int     `json:"longest_gap"`  // stitches of the longest gap of the whole piece
	PerStitch Seconds `json:"per_stitch_s"` // 0 when it is not known
	Time      Seconds `json:"time_s"`
}

func (r *Review) pairWith(other *Review) *PairReview {
	rows := min(r.Row, other.Row)
	pair := &PairReview{First: other.Piece, Rows: rows, This: r.side(rows), Other: other.side(rows)}
	for i := range rows {
		if r.Rows[i].Tally.Used != other.Rows[i].Tally.Used {
			pair.CatchesDiffer = append(pair.CatchesDiffer, i+1)
		}
	}
	return pair
}

func (r *Review) side(rows int) PairSide {
	side := PairSide{PerStitch: r.Pace.PerStitch, Time: r.Pace.SoFar}
	for _, row := range r.Rows[:rows] {
		side.Used += row.Tally.Used
	}
	for _, g := range r.Mending {
		if g.To.Row <= rows {
			side.Mending++
		}
	}
	for _, y := range r.ByYarn {
		side.Longest = max(side.Longest, y.Longest.Stitches)
	}
	return side
}
