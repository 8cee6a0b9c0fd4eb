package draw

import (
	"fmt"
	"slices"

	"strandwise/floats"
	"strandwise/session"
)

// Knitted is what pictures show of a piece: its rows from the first on, the strands behind
// them and the catches.
type Knitted struct {
	Piece   *session.Piece
	Rows    int      // the last row shown, from 1
	Begin   int      // the first
	Made    int      // the last row shown as it was made; those above it are as planned
	Marks   [][]Mark // index 0 is row 1
	Strands []session.Strand
	Mends   []session.Mend

	Across int // columns shown, when not all: one repeat

	cut *window // the part shown, when not all
}

// WithRowsToCome is all finished rows as they were made, with the gaps to mend, and above them those up to one as
// planned.
func WithRowsToCome(p *session.Piece, to int, mends []session.Mend) *Knitted {
	k := &Knitted{Piece: p, Rows: max(to, p.State.Row), Begin: 1, Made: p.State.Row, Mends: mends}
	return k.caught(p.Shown, func(row int) []session.Mark {
		if row > k.Made {
			return p.Shown(row)
		}
		return p.State.DoneRow(row).Used
	})
}

// AsShown is the rows up to one as they were to be: finished ones with the catches their sheets showed, those to come
// as planned before any row was made otherwise.
func AsShown(p *session.Piece, to int) *Knitted {
	k := &Knitted{Piece: p, Rows: to, Begin: 1}
	return k.caught(p.AsPlanned, p.AsPlanned)
}

func (k *Knitted) caught(shown, used func(row int) []session.Mark) *Knitted {
	for row := 1; row <= k.Rows; row++ {
		k.Marks = append(k.Marks, k.marks(row, shown(row), used(row)))
	}
	k.Strands = k.Piece.Strands(k.Rows, used)
	return k
}

func (k *Knitted) marks(row int, shown, used []session.Mark) []Mark {
	all := slices.Concat(shown, used)
	slices.SortFunc(all, session.Mark.Compare)
	marks := make([]Mark, 0, len(all))
	for _, m := range slices.Compact(all) {
		mark := Mark{Mark: m, Letter: k.Piece.LetterOf(row, m)}
		switch {
		case row > k.Made:
			mark.State = ToMake
		case !slices.Contains(shown, m):
			mark.State = Unplanned
		case !slices.Contains(used, m):
			mark.State = NotMade
			moves := k.Piece.Changes(row).Moved
			if at := slices.IndexFunc(moves, func(x session.Move) bool { return x.From == m }); at >= 0 {
				mark.State, mark.To = Moved, moves[at].To.Stitch
			}
		}
		marks = append(marks, mark)
	}
	return marks
}

// Columns is how many columns the widest row has, as far as they are shown.
func (k *Knitted) Columns() int {
	widest := 0
	if k.Across > 0 {
		return k.Across
	}
	for row := 1; row <= k.Rows; row++ {
		widest = max(widest, k.Piece.Row(row).Columns())
	}
	return widest
}

func (k *Knitted) rowWord() string { return session.RowWord(!k.Piece.Layout.Fabric.Flat) }

func (k *Knitted) gauge() floats.Gauge {
	g, _ := floats.ParseGauge(k.Piece.State.SegmentAt(k.Rows).Gauge)
	return g
}

func (k *Knitted) twist(row int) bool {
	return k.Piece.State.GripAt(row).FloatMethod() == floats.Twist
}

func (k *Knitted) symbol(yarn int) string { return string(k.Piece.Layout.Fabric.Yarns[yarn].Symbol) }

// spotData names a stitch by its place, and a yarn. One repeat that stands for all has no number.
func (k *Knitted) spotData(row, stitch, yarn int) []Datum {
	at, data := k.Piece.PlaceOf(row, stitch), []Datum{{"row", fmt.Sprint(row)}}
	if at.Block > 0 {
		data = append(data, Datum{"block", fmt.Sprint(at.Block)})
	}
	if k.Across == 0 {
		data = append(data, Datum{"repeat", fmt.Sprint(at.Repeat)})
	}
	return append(data, Datum{"stitch", fmt.Sprint(at.Stitch)}, Datum{"yarn", k.symbol(yarn)})
}

func (k *Knitted) whole() window {
	if k.cut != nil {
		return *k.cut
	}
	return window{k.Begin, k.Rows, 0, k.Columns() - 1}
}

// span is the part of a strand that lies in one row; a float over the start is two.
type span struct {
	*session.Strand
	row         int
	first, last int      // stitches
	upper       bool     // of a float over the start, the part in its upper row
	caught      []int    // the stitches that hold it
	mends       []toMend // its gaps over the limit
}

// toMend is a gap to mend as far as it lies in one row.
type toMend struct {
	number      int          // of its line in the mending list
	from        session.Spot // where the whole gap begins
	first, last int          // stitches
}

// spans parts strands by row, yarn by yarn; index 0 is row 1.
func (k *Knitted) spans() [][]span {
	rows, numbers := make([][]span, k.Rows+1), map[session.Gap]int{}
	for _, m := range k.Mends {
		for _, g := range m.Alike {
			g.Length = 0 // those of a strand are not measured
			numbers[g] = m.Number
		}
	}
	add := func(s span) {
		for _, c := range s.Caught {
			if c.Row == s.row {
				s.caught = append(s.caught, c.Stitch)
			}
		}
		for _, g := range s.Gaps {
			first, last := s.first, s.last
			if g.From.Row == s.row {
				first = g.From.Stitch
			}
			if g.To.Row == s.row {
				last = g.To.Stitch
			}
			if number := numbers[g]; number > 0 && g.From.Row <= s.row && s.row <= g.To.Row {
				s.mends = append(s.mends, toMend{number, g.From, first, last})
			}
		}
		rows[s.row-1] = append(rows[s.row-1], s)
	}
	for i := range k.Strands {
		st := &k.Strands[i]
		here := min(st.Length, k.Piece.Row(st.From.Row).Stitches()-st.From.Stitch+1)
		add(span{Strand: st, row: st.From.Row, first: st.From.Stitch, last: st.From.Stitch + here - 1})
		if here < st.Length {
			add(span{Strand: st, row: st.From.Row + 1, first: 1, last: st.Length - here, upper: true})
		}
	}
	for _, row := range rows {
		slices.SortStableFunc(row, func(a, b span) int { return a.Yarn - b.Yarn })
	}
	return rows
}
