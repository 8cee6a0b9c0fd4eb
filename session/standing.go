package session

import (
	"fmt"
	"time"

	"strandwise/session/hold"
)

// Standing is where a piece stands, for a knitter who takes it up again.
type Standing struct {
	Piece    string
	Round    bool
	Row, Of  int // finished rows; rows of the piece
	BoundOff bool
	LastAt   time.Time // of the newest event

	Done *Sheet // the last finished row, to read the needles against; nil when there is none
	Next *Sheet // the row to work now; nil when there is none

	Hold, Carry, Method string
	Dominant            hold.Dominance // which place is dominant, and how sure that is
	Notes               []Note         // open
	Missed              []int          // rows with a catch that was missed
	Gaps                int            // strands over the limit so far
	Rests               []RestingYarn
	Turns               []hold.Tangle
	Yarns               []string // names, by index
	Pace                Pace
}

// RestingYarn is a yarn that waits while the next row is worked.
type RestingYarn struct {
	Yarn  int
	Until int  // the row in which it is used again
	Cut   bool // it was cut, and is to be rejoined
}

// Standing tells where the piece stands. It takes time linear in its stitches.
func (p *Piece) Standing() *Standing {
	s, setup := p.State, &p.State.Setup
	st := &Standing{
		Piece: setup.Name, Round: !setup.Flat, Row: s.Row, Of: p.Rows(), BoundOff: s.BoundOff, LastAt: s.LastAt,
		Hold: setup.Hold, Carry: setup.Carry, Method: setup.Method,
		Notes: s.OpenNotes(), Missed: p.missedRows(), Turns: p.Turns().Tangles(), Yarns: p.yarnNames(),
		Pace: s.Pace(p.stitchesIn),
	}
	st.Dominant = setup.Grip.Hands(setup.Mirror).Dominant()
	st.Gaps = len(over(p.Strands(s.Row, p.used)))
	if s.Row > 0 {
		st.Done = p.Sheet(s.Row)
	}
	if next := s.Next(); next > 0 {
		st.Next = p.Sheet(next)
		st.Rests = p.resting(next)
	}
	return st
}

func (p *Piece) missedRows() []int {
	var rows []int
	for _, done := range p.State.DoneRows() {
		if len(p.Changes(done.Row).Missed) > 0 {
			rows = append(rows, done.Row)
		}
	}
	return rows
}

func (p *Piece) resting(row int) []RestingYarn {
	var yarns []RestingYarn
	for _, r := range p.Layout.Fabric.RowRests(row-1, p.State.Setup.RestLimit) {
		yarns = append(yarns, RestingYarn{r.Yarn, r.ToRow + 2, r.Cut})
	}
	return yarns
}

// RestWords tells of a yarn at rest: "kelp rests until round 60".
func (st *Standing) RestWords(r RestingYarn) string {
	word := RowWord(st.Round)
	if r.Cut {
		return fmt.Sprintf("%s is cut; rejoin it in %s %d", st.Yarns[r.Yarn], word, r.Until)
	}
	return fmt.Sprintf("%s rests until %s %d", st.Yarns[r.Yarn], word, r.Until)
}
