package draw

import (
	"slices"

	"strandwise/session"
)

// span is the part of a strand that lies in one row; a float over the start is two.
type span struct {
	*session.Strand
	row         int
	first, last int   // stitches
	upper       bool  // of a float over the start, the part in its upper row
	caught      []int // the stitches that hold it
	bows        []bow // from one anchor to the next, one more than it is caught
}

// bow is the stitches that a strand passes between two anchors: none where catches stand side by
// side.
type bow struct {
	first, last int
	mend        toMend // zero within the limit
}

// toMend is a gap to mend: the number of its line in the mending list, and where it begins.
type toMend struct {
	number int
	from   session.Spot
}

// spans parts strands by row, yarn by yarn; index 0 is row 1. A page draws many parts of a piece,
// so they are kept.
func (k *Knitted) spans() [][]span {
	if k.laid == nil {
		k.laid = k.partStrands()
	}
	return k.laid
}

func (k *Knitted) partStrands() [][]span {
	rows, mends := make([][]span, k.Rows+1), k.mendsAt()
	add := func(s span) {
		for _, c := range s.Caught {
			if c.Row == s.row {
				s.caught = append(s.caught, c.Stitch)
			}
		}
		s.bows = k.bows(s, mends)
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

// bows parts a span at its catches. A catch takes its stitch, but a twist lies before it.
func (k *Knitted) bows(s span, mends map[gapStart]toMend) []bow {
	var bows []bow
	first := s.first
	end := func(last int) {
		b := bow{first: first, last: last}
		if first <= last {
			b.mend = mends[gapStart{s.Yarn, s.row, first}]
		}
		bows = append(bows, b)
	}
	for _, stitch := range s.caught {
		end(stitch - 1)
		if first = stitch; !k.twist(s.row) {
			first++
		}
	}
	end(s.last)
	return bows
}

// gapStart tells a gap by its yarn and the first stitch it has in a row.
type gapStart struct{ yarn, row, stitch int }

// mendsAt finds the mending list by where its gaps begin in each row they run through, in each
// repeat in which they are alike.
func (k *Knitted) mendsAt() map[gapStart]toMend {
	at := map[gapStart]toMend{}
	for _, m := range k.Mends {
		begins := k.Piece.PlaceOf(m.From.Row, m.From.Stitch)
		for _, repeat := range m.Repeats {
			begins.Repeat = repeat
			from := session.Spot{Row: m.From.Row, Stitch: k.Piece.Row(m.From.Row).StitchAt(begins)}
			at[gapStart{m.Yarn, from.Row, from.Stitch}] = toMend{m.Number, from}
		}
		if m.To.Row > m.From.Row {
			at[gapStart{m.Yarn, m.To.Row, 1}] = toMend{m.Number, m.From}
		}
	}
	return at
}
