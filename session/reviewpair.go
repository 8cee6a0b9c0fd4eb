package session

import "time"

// PairReview sets the second of a pair beside the first, as far as both are knitted.
type PairReview struct {
	First         string // name of the first piece
	Rows          int    // finished in both
	This, Other   PairSide
	CatchesDiffer []int // rows finished in both that have another number of catches
}

// PairSide is one of the pair, over the rows finished in both.
type PairSide struct {
	Used      int           `json:"used"`        // catches made
	Mending   int           `json:"mending"`     // gaps over the limit
	Longest   int           `json:"longest_gap"` // stitches of the longest gap of the whole piece
	PerStitch time.Duration `json:"-"`           // usual time of a stitch; 0 when it is not known
	Time      time.Duration `json:"-"`           // of the whole piece so far
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
