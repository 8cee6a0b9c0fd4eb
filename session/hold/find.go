package hold

import (
	"fmt"
	"slices"
)

// tables are all motions, the weaves first.
var tables = [...]*[]row{&knitWeaves, &purlWeaves, &twists}

// Motions lists every motion, once for each hold, carry, side, method and place of the
// carried yarn, as a knitter who works from the left needle to the right makes it.
// The order is that of the tables: weave on the knit side, on the purl side, then
// the twists.
func Motions() []Motion {
	var list []Motion
	for _, table := range tables {
		for _, r := range *table {
			list = append(list, r.expand()...)
		}
	}
	return list
}

// row is one line of a motion table: a motion for the named holds and, of each of them,
// the named carried places. No places stands for every place of each hold and carry.
type row struct {
	holds    []Hold
	carries  []Carry
	sides    []Side
	carried  []Place
	method   Method
	steps    []string
	short    string
	other    []string // the steps in the opposite sense
	otherway string   // and their short form
	cross    *Crossings
	attested Attested
	note     string
}

func (r row) expand() []Motion {
	var list []Motion
	for _, h := range r.holds {
		for _, c := range r.carries {
			for _, s := range r.sides {
				list = append(list, r.at(h, c, s)...)
			}
		}
	}
	return list
}

func (r row) at(h Hold, c Carry, s Side) []Motion {
	var list []Motion
	both := Places(h, c, false)
	for _, p := range both {
		if r.carried != nil && !slices.Contains(r.carried, p) {
			continue
		}
		list = append(list, Motion{
			Hold: h, Carry: c, Side: s, Method: r.method, Carried: p, Working: opposite(both, p),
			Steps: slices.Clone(r.steps), Short: r.short, Alternate: slices.Clone(r.other), AlternateShort: r.otherway,
			Crossings: *r.cross, Attested: r.attested, Note: r.note,
		})
	}
	return list
}

// opposite is the other of two places, or the only one.
func opposite(both []Place, p Place) Place {
	if both[0] == p {
		return both[len(both)-1]
	}
	return both[0]
}

// Find returns the motion that catches a yarn carried in the given place. For a
// mirror knitter the place is one of hers and the motion comes with left and right
// swapped. Errors are a *CarryError, a *PlaceError, or that of a motion which
// Validate refuses.
func Find(h Hold, c Carry, s Side, m Method, carried Place, mirror bool) (Motion, error) {
	if err := CheckCarry(h, c); err != nil {
		return Motion{}, err
	}
	if own := Places(h, c, mirror); !slices.Contains(own, carried) {
		return Motion{}, &PlaceError{h, carried, own}
	}
	if !mirror {
		return pick(candidates(h, c, s, m), h, c, s, m, carried)
	}
	found, err := pick(candidates(h, c, s, m), h, c, s, m, carried.Mirror())
	if err != nil {
		return Motion{}, err
	}
	return found.Mirror(), nil
}

// candidates are the motions of the lines of the tables that can hold the one looked
// for.
func candidates(h Hold, c Carry, s Side, m Method) []Motion {
	var list []Motion
	for _, table := range tables {
		for _, r := range *table {
			if r.method == m && slices.Contains(r.holds, h) && slices.Contains(r.carries, c) && slices.Contains(r.sides, s) {
				list = append(list, r.at(h, c, s)...)
			}
		}
	}
	return list
}

func pick(list []Motion, h Hold, c Carry, s Side, m Method, carried Place) (Motion, error) {
	at := slices.IndexFunc(list, func(x Motion) bool {
		return x.Hold == h && x.Carry == c && x.Side == s && x.Method == m && x.Carried == carried
	})
	if at < 0 {
		panic(fmt.Sprintf("hold: no motion for %s %s, %s, %s of %s: every combination stands once", c, h, s, m, carried))
	}
	if err := list[at].Validate(); err != nil {
		return Motion{}, fmt.Errorf("%s of %s with hold %s, %s: %w", m, carried.Strand(), h, s, err)
	}
	return list[at], nil
}
