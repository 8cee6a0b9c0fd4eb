package session

import (
	"cmp"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session/hold"
)

// YarnPlace is where a yarn sits in the hand while a row is worked.
type YarnPlace struct {
	Yarn     PieceYarn  `json:"yarn"`
	Place    hold.Place `json:"place"`
	Dominant bool       `json:"dominant"` // carried below: its stitches stand out; never set in a rotating carry
	Shares   bool       `json:"shared"`   // a third yarn, sharing the place with another
}

// heldRow is a row and how the yarns are held while it is worked.
type heldRow struct {
	*floats.Row
	piece      *Piece
	number     int // from 1
	grip       Grip
	hands      hold.Hands
	YarnPlaces []YarnPlace // the dominant one first
}

// YarnPlaces tells where the yarns of a row, from 1, sit, the dominant one first.
//
// The pattern yarn takes the dominant place unless the knitter asked for the background, or one yarn, to
// have it. Of two yarns of one role the one that was in the row below keeps its place; else the one with
// more stitches is the background. A third yarn shares the place of the yarn used least besides it; the one
// yarn asked for is never the third.
func (p *Piece) YarnPlaces(row int) []YarnPlace {
	return p.held(row).YarnPlaces
}

// held is a row with its yarns in the hands.
func (p *Piece) held(row int) heldRow {
	s, grip := p.placed(row), p.State.GripAt(row)
	hands := grip.Hands(p.State.Setup.Mirror)
	places, known := hands.Places(), hands.Dominant().Known
	var seats []YarnPlace
	for i, y := range s.slot {
		if y >= 0 {
			seats = append(seats, YarnPlace{Yarn: p.yarn(y), Place: places[min(i, len(places)-1)], Dominant: i == 0 && known})
		}
	}
	for _, y := range s.third {
		seats = append(seats, YarnPlace{Yarn: p.yarn(y), Place: places[min(s.share, len(places)-1)], Shares: len(places) > 1})
	}
	return heldRow{p.Row(row), p, row, grip, hands, seats}
}

// placing is which yarn has which slot in a row, 0 being the dominant place; the others share one.
type placing struct {
	slot  [2]int // yarn, or chart.NoYarn
	third []int  // yarns beyond two, the more used first
	share int    // the slot they share: that of the yarn used less
}

var noPlacing = placing{slot: [2]int{chart.NoYarn, chart.NoYarn}}

// placed is the placing of a row. Each looks at the one below, so all are placed from the first one up.
func (p *Piece) placed(row int) placing {
	known := p.memo()
	below := noPlacing
	if n := len(known.seats); n > 0 {
		below = known.seats[n-1]
	}
	for next := len(known.seats) + 1; next <= row; next++ {
		below = p.seat(next, below)
		known.seats = append(known.seats, below)
	}
	return known.seats[row-1]
}

// seat places the yarns of a row above the one below as it is placed.
func (p *Piece) seat(row int, below placing) placing {
	yarns, named := p.byUse(row), p.namedDominant(row)
	if at := slices.Index(yarns, named); at > 1 { // used less than two others
		yarns = slices.Insert(slices.Delete(yarns, at, at+1), 1, named)
	}
	s := noPlacing
	if len(yarns) > 1 {
		at := p.slotOf(row, yarns[0], yarns[1], below)
		s.slot[at], s.slot[1-at] = yarns[0], yarns[1]
		s.third, s.share = yarns[2:], 1-at
		return s
	}
	at := slices.Index(below.slot[:], yarns[0])
	if at < 0 && p.wantsDominant(row, yarns[0]) {
		at = 0
	}
	if at < 0 {
		at = 1
	}
	s.slot[at] = yarns[0]
	return s
}

// byUse lists the yarns of a row, the most used first, then the one worked first; but of three and more one
// that was in the row below comes first, so that the yarn already in the hand is not the third.
func (p *Piece) byUse(row int) []int {
	var yarns []int
	count, below := map[int]int{}, map[int]int{}
	r := p.Row(row)
	for i := range r.Blocks {
		for _, s := range r.StitchesOf(&r.Blocks[i]) {
			if count[s.Yarn] == 0 {
				yarns = append(yarns, s.Yarn)
			}
			count[s.Yarn] += r.Blocks[i].Repeats
		}
	}
	if row > 1 && len(yarns) > 2 {
		for _, s := range p.Row(row - 1).InOrder() {
			below[s.Yarn] = 1
		}
	}
	slices.SortStableFunc(yarns, func(a, b int) int { return cmp.Or(count[b]-count[a], below[b]-below[a]) })
	return yarns
}

// slotOf gives the slot of first, the more used of two yarns.
func (p *Piece) slotOf(row, first, second int, below placing) int {
	a, b := p.wantsDominant(row, first), p.wantsDominant(row, second)
	switch {
	case a && !b:
		return 0
	case b && !a:
		return 1
	}
	if at := slices.Index(below.slot[:], first); at >= 0 {
		return at
	}
	if at := slices.Index(below.slot[:], second); at >= 0 {
		return 1 - at
	}
	if p.State.GripAt(row).Dominant == DominantBackground {
		return 0
	}
	return 1 // the more used is the background
}

// wantsDominant reports whether a yarn's role gives it the dominant place.
func (p *Piece) wantsDominant(row, yarn int) bool {
	background := slices.Contains(p.Layout.grounds[p.Row(row).Part], p.Layout.Fabric.Yarns[yarn].Symbol)
	if p.State.GripAt(row).Dominant == DominantBackground {
		return background
	}
	if named := p.namedDominant(row); rowWorks(p.Row(row), named) {
		return yarn == named
	}
	return !background
}

// namedDominant is the one yarn that was asked for as dominant; chart.NoYarn where none was.
func (p *Piece) namedDominant(row int) int {
	if word := []rune(p.State.GripAt(row).Dominant); len(word) == 1 {
		return p.Layout.Fabric.Yarn(word[0])
	}
	return chart.NoYarn
}

func rowWorks(r *floats.Row, yarn int) bool {
	return slices.ContainsFunc(r.InOrder(), func(s floats.Stitch) bool { return s.Yarn == yarn })
}
