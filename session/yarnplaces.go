package session

import (
	"cmp"
	"slices"

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

// YarnPlaces tells where the yarns of a row sit, the dominant one first. A row of one
// yarn has one seat. Rows count from 1.
//
// The pattern yarn takes the dominant place unless the knitter asked for the
// background, or one yarn, to have it. Of two yarns of one role the one that was in
// the row below keeps its place; else the one with more stitches is the background.
// A third yarn shares the place of the yarn used least besides it; the one yarn asked
// for is never the third.
func (p *Piece) YarnPlaces(row int) []YarnPlace {
	s := p.placed(row)
	hands := p.State.GripAt(row).Hands(p.State.Setup.Mirror)
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
	return seats
}

// placed is the placing of a row, kept once it is known. A row looks at the one below
// only where its own yarns do not decide, so few rows of a long piece are looked at.
func (p *Piece) placed(row int) placing {
	if row < 1 {
		return noPlacing
	}
	seats := p.memo().seats
	s, known := seats[row]
	if !known {
		s = p.seat(row)
		seats[row] = s
	}
	return s
}

func (p *Piece) seat(row int) placing {
	yarns := p.namedEarly(row, p.byUse(row))
	s := noPlacing
	if len(yarns) == 1 {
		below := p.placed(row - 1)
		at := slices.Index(below.slot[:], yarns[0])
		switch {
		case at >= 0:
		case p.wantsDominant(row, yarns[0]):
			at = 0
		default:
			at = 1
		}
		s.slot[at] = yarns[0]
		return s
	}
	first, second := yarns[0], yarns[1]
	at := p.slotOf(row, first, second)
	s.slot[at], s.slot[1-at] = first, second
	s.third, s.share = yarns[2:], 1-at
	return s
}

// byUse lists the yarns of a row, the most used first. Of two level the one worked first; but of
// three and more one that was in the row below comes before one that was not, so that the yarn
// already in the hand is not the third.
func (p *Piece) byUse(row int) []int {
	var yarns []int
	count, below := map[int]int{}, map[int]int{}
	for _, s := range p.Row(row).All() {
		if count[s.Yarn]++; count[s.Yarn] == 1 {
			yarns = append(yarns, s.Yarn)
		}
	}
	if len(yarns) > 2 && row > 1 {
		for _, s := range p.Row(row - 1).InOrder() {
			below[s.Yarn] = 1
		}
	}
	slices.SortStableFunc(yarns, func(a, b int) int { return cmp.Or(count[b]-count[a], below[b]-below[a]) })
	return yarns
}

// namedEarly moves the yarn the knitter named as dominant up to the second place where
// it is used less than two others.
func (p *Piece) namedEarly(row int, yarns []int) []int {
	word := []rune(p.State.GripAt(row).Dominant)
	if len(word) != 1 {
		return yarns
	}
	at := slices.Index(yarns, p.Layout.Fabric.Yarn(word[0]))
	if at < 2 {
		return yarns
	}
	return slices.Insert(slices.Delete(slices.Clone(yarns), at, at+1), 1, yarns[at])
}

// slotOf gives the slot of first, the more used of two yarns.
func (p *Piece) slotOf(row, first, second int) int {
	a, b := p.wantsDominant(row, first), p.wantsDominant(row, second)
	switch {
	case a && !b:
		return 0
	case b && !a:
		return 1
	}
	below := p.placed(row - 1)
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
	background := p.Layout.isBackground(p.Row(row).Part, yarn)
	switch word := p.State.GripAt(row).Dominant; word {
	case DominantPattern, "":
		return !background
	case DominantBackground:
		return background
	default:
		if named := p.Layout.Fabric.Yarn([]rune(word)[0]); rowWorks(p.Row(row), named) {
			return yarn == named
		}
		return !background
	}
}

// rowWorks reports whether a yarn is worked in a row.
func rowWorks(r *floats.Row, yarn int) bool {
	return slices.ContainsFunc(r.InOrder(), func(s floats.Stitch) bool { return s.Yarn == yarn })
}
