package draw

import (
	"slices"

	"strandwise/session"
)

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
	rows := make([][]span, k.Rows+1)
	add := func(s span) {
		for _, c := range s.Caught {
			if c.Row == s.row {
				s.caught = append(s.caught, c.Stitch)
			}
		}
		for _, g := range s.Gaps {
			first, last := s.within(g)
			if number := k.mendOf(g); number > 0 && first <= last {
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

// within is the part of a gap that lies in the span's row; of none the first is after the last.
func (s span) within(g session.Gap) (first, last int) {
	first, last = s.first, s.last
	if g.From.Row == s.row {
		first = g.From.Stitch
	}
	if g.To.Row == s.row {
		last = g.To.Stitch
	}
	if g.From.Row > s.row || g.To.Row < s.row {
		last = first - 1
	}
	return first, last
}

// mendOf is the number of the line of the mending list that has a gap, in whichever of the repeats
// in which they are alike; 0 where none has.
func (k *Knitted) mendOf(g session.Gap) int {
	at := k.Piece.PlaceOf(g.From.Row, g.From.Stitch)
	for _, m := range k.Mends {
		if m.Yarn == g.Yarn && m.From.Row == g.From.Row && m.Block == at.Block && slices.Contains(m.Repeats, at.Repeat) &&
			k.Piece.PlaceOf(m.From.Row, m.From.Stitch).Stitch == at.Stitch {
			return m.Number
		}
	}
	return 0
}
