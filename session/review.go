package session

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
)

// Review looks back on a piece, finished or under way: what became of its catches, how its strands lie,
// what to mend. It says nothing of rows to come.
type Review struct {
	Piece    string       `json:"piece"`
	Round    bool         `json:"round"`
	Row      int          `json:"rows"` // finished
	Of       int          `json:"of"`
	BoundOff bool         `json:"bound_off"`
	Limit    int          `json:"limit"` // of the next row
	Gauge    string       `json:"gauge"`
	Catches  Tally        `json:"catches"`
	Rows     []RowReview  `json:"by_row"`
	ByYarn   []YarnReview `json:"by_yarn"`
	OnCharts []HeatMap    `json:"on_charts"` // catches made, by chart; those without are left out
	Stacked  []Meeting    `json:"stacked"`
	Near     []Meeting    `json:"near"`
	Mending  []Mend       `json:"mending"` // the most urgent first
	Turns    []TurnedPair `json:"turns"`
	Ripped   int          `json:"ripped_rows"`
	Time     Pace         `json:"time"`
	Pair     *PairReview  `json:"pair"` // null but for the second of a pair
	Cautions []string     `json:"cautions"`
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

// YarnReview is what became of one yarn: its floats, short ones too, and the longest gap of all, the first of two
// alike; null when it has no float.
type YarnReview struct {
	Yarn    chart.Yarn `json:"yarn"`
	Name    string     `json:"name"`
	Floats  int        `json:"floats"`
	Caught  int        `json:"caught_floats"`
	Catches int        `json:"catches"`
	Longest *Gap       `json:"longest_gap"`
}

// Meeting is two catches in adjacent rows, above each other or one column apart. Only rows of as many columns meet, and not across the edge.
type Meeting struct {
	Row   int         `json:"row"` // the upper one
	Upper LoggedCatch `json:"upper"`
	Below LoggedCatch `json:"below"`
}

// TurnedPair is how often two yarns are turned about each other.
type TurnedPair struct {
	Yarns []chart.Yarn `json:"yarns"` // two
	Turns int          `json:"turns"`
	Text  string       `json:"text"`
}

// Review looks back. First is the first of the pair when this piece is the second and that is at hand, else
// nil. The time is linear in the stitches of the piece, the sorting of the gaps apart.
func (p *Piece) Review(first *Piece) *Review {
	s := p.State
	next := s.SegmentAt(s.Row + 1)
	r := &Review{
		Piece: s.Setup.Name, Round: !p.Layout.Fabric.Flat, Row: s.Row, Of: p.Rows(), BoundOff: s.BoundOff, Limit: next.Limit, Gauge: next.Gauge,
		OnCharts: p.HeatMaps(), Ripped: s.Ripped, Time: p.Pace(), Cautions: s.Setup.Cautions(),
	}
	for _, y := range p.Layout.Fabric.Yarns {
		r.ByYarn = append(r.ByYarn, YarnReview{Yarn: y, Name: y.Name})
	}
	var below *shownRow
	for row := 1; row <= s.Row; row++ {
		shown := p.rowShown(row)
		r.addRow(s.DoneRow(row), shown.changes)
		if below != nil {
			r.meet(shown, below)
		}
		below = shown
	}
	r.addStrands(p)
	for _, t := range p.Turns().Tangles() {
		one, other := p.yarn(t.A).Yarn, p.yarn(t.B).Yarn
		r.Turns = append(r.Turns, TurnedPair{[]chart.Yarn{one, other}, t.Turns, t.Untangle(one.Name, other.Name)})
	}
	if first != nil {
		r.Pair = r.pairWith(first.Review(nil))
	}
	return r
}

func (r *Review) addRow(done DoneRow, c Changes) {
	row := RowReview{
		Row: done.Row, Changes: c, Unwitnessed: done.Unwitnessed, ByYarn: map[chart.Yarn]int{},
		Tally: Tally{Planned: len(done.Shown), Used: len(done.Used), Moved: len(c.Moved), Missed: len(c.Missed), Extra: len(c.Extra)},
	}
	if done.Unwitnessed {
		row.Tally.Unwitnessed = len(done.Used)
	}
	for _, m := range done.Used {
		if m.Yarn < len(r.ByYarn) {
			row.ByYarn[r.ByYarn[m.Yarn].Yarn]++
			r.ByYarn[m.Yarn].Catches++
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

func (r *Review) addStrands(p *Piece) {
	strands := p.Strands(r.Row, p.used)
	for _, st := range strands {
		of := &r.ByYarn[st.Yarn]
		of.Floats++
		if len(st.Caught) > 0 {
			of.Caught++
		}
		for _, g := range st.Gaps {
			if of.Longest == nil || g.Stitches > of.Longest.Stitches {
				of.Longest = p.measured(g)
			}
		}
	}
	r.Mending = p.mends(p.gapsOver(strands))
}

func (r *Review) meet(upper, lower *shownRow) {
	if upper.Columns() != lower.Columns() {
		return
	}
	columns := map[int][]Mark{}
	for _, m := range lower.made {
		if column := ColumnOf(lower.Row, m.Stitch); column > 0 {
			columns[column] = append(columns[column], m)
		}
	}
	for _, m := range upper.made {
		column := ColumnOf(upper.Row, m.Stitch)
		for step := -1; step <= 1 && column > 0; step++ {
			to := &r.Near
			if step == 0 {
				to = &r.Stacked
			}
			for _, o := range columns[column+step] {
				*to = append(*to, Meeting{upper.number, upper.logged(m), lower.logged(o)})
			}
		}
	}
}

// MeetingWords tells where catches meet, a line a row, those alike in several repeats together:
// "round 12 above round 11: catch a above catch c in every repeat".
func (p *Piece) MeetingWords(meetings []Meeting) []string {
	return mapped(Gathered(meetings, func(m Meeting) int { return m.Row }), func(all []Meeting) string {
		row := all[0].Row
		g := newGrouping(p.Row(row).Course)
		for _, m := range all {
			g.add(m.Upper.inRow, m.Upper.name()+" above "+m.Below.name())
		}
		return fmt.Sprintf("%s %d above %s %d: %s", p.rowWord(), row, p.rowWord(), row-1, strings.Join(g.lines(), ", "))
	})
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
	side := PairSide{PerStitch: r.Time.PerStitch, Time: r.Time.SoFar}
	for _, row := range r.Rows[:rows] {
		side.Used += row.Tally.Used
	}
	for _, m := range r.Mending {
		if m.To.Row <= rows {
			side.Mending += len(m.Repeats)
		}
	}
	for _, y := range r.ByYarn {
		if y.Longest != nil {
			side.Longest = max(side.Longest, y.Longest.Stitches)
		}
	}
	return side
}

// HeatMap is where on the chart of a part catches were made, over all its finished rows and all
// their repeats. A row of blocks is one repeat of each beside the other.
type HeatMap struct {
	Part   string  `json:"part"`
	Number int     `json:"number"` // of the part, from 1
	Rows   [][]int `json:"rows"`   // catches made by row of the chart, then by column; index 0 is row 1 and column 1

	Cells [][]chart.Cell `json:"-"` // the chart alike; yarns index those of the fabric
}

// HeatMaps counts the catches made, part by part, those with none left out, in time linear in the stitches.
func (p *Piece) HeatMaps() (hot []HeatMap) {
	maps := make([]HeatMap, len(p.Layout.Parts))
	for i, row := range p.Layout.Fabric.Rows {
		m := &maps[row.Part]
		m.know(row)
		if i < p.State.Row {
			for _, caught := range p.State.DoneRow(i + 1).Used {
				m.Rows[row.ChartRow-1][row.InOrder()[row.InPattern(caught.Stitch)].Column]++
			}
		}
	}
	for i, m := range maps {
		if _, _, most := m.Hottest(); most > 0 {
			from, _ := p.Layout.planOf(i)
			m.Part, m.Number = p.Layout.Parts[i].Title(), i-from+1
			hot = append(hot, m)
		}
	}
	return hot
}

// know makes room for a row of the chart, and for those below that a change of plan left out.
func (m *HeatMap) know(row floats.Row) {
	for len(m.Rows) < row.ChartRow {
		m.Rows = append(m.Rows, make([]int, len(row.Cells)))
		m.Cells = append(m.Cells, slices.Repeat([]chart.Cell{{Yarn: chart.NoYarn}}, len(row.Cells)))
	}
	at := row.ChartRow - 1
	if len(m.Rows[at]) != len(row.Cells) {
		m.Rows[at] = make([]int, len(row.Cells))
	}
	m.Cells[at] = row.Cells
}

// Hottest is the stitch with the most catches, row and column from 1, the first of several.
func (m *HeatMap) Hottest() (row, column, catches int) {
	for r, counts := range m.Rows {
		for c, n := range counts {
			if n > catches {
				row, column, catches = r+1, c+1, n
			}
		}
	}
	return row, column, catches
}
