package session

import (
	"fmt"
	"slices"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session/hold"
)

// SheetMotion is the motion that makes some of a row's catches.
type SheetMotion struct {
	hold.Motion
	Letters []string    // of the catches it makes; empty for an extra one
	Yarns   []PieceYarn // the yarns it catches in this row, in order of their first catch
	Known   bool        // it was shown in knownAfter rows before: the short form will do
	Way     hold.Way    // of a twist: how the first in the row goes round
	Apart   bool        // both yarns share a place, so it is made one at a time
	Lift    string      // with three yarns: which strands to lift where two share a place; empty else

	working int // the yarn worked at the first of these catches
}

// knownAfter is the number of rows after which a motion is taken for known: our choice.
const knownAfter = 3

// motions gives the motions of the catches of a repeat, in the order in which they are first needed. The turns of
// the rows below decide how a twist goes round; those of rows to come are not known yet and have the taught way.
func (r *shownRow) motions(catches []Catch) []SheetMotion {
	var motions []SheetMotion
	for _, c := range catches {
		m := r.motionFor(r.StitchOf(c), c.Yarn.Index)
		m.Letters = []string{c.Letter}
		motions = joinMotion(motions, m)
	}
	below := &hold.Turns{}
	if r.Method == floats.Twist && r.number <= r.piece.State.Row+1 {
		below = r.piece.turnsBelow(r.number)
	}
	for i := range motions {
		m := &motions[i]
		m.Known, m.Lift = r.knows(*m), r.lift(m, catches)
		m.Way = below.NextWay(m.Carry, m.working, m.Yarns[0].Index)
	}
	return motions
}

// lift says, where two carried strands share a place, whether one lift catches both or one is due.
func (r *shownRow) lift(m *SheetMotion, catches []Catch) (lift string) {
	for _, c := range catches {
		if !slices.Contains(m.Yarns, c.Yarn) || m.Apart {
			continue
		}
		other := r.sharing(c.Yarn.Index, r.StitchOf(c).Yarn)
		caught := func(o Catch) bool { return o.Yarn.Index == other && r.StitchOf(o) == r.StitchOf(c) }
		switch {
		case other == chart.NoYarn:
		case slices.ContainsFunc(catches, caught):
			lift = "lift both"
		default:
			lift = fmt.Sprintf("lift only %s, leave %s", c.Yarn.Name, r.piece.yarnName(other))
		}
	}
	return lift
}

// sharing finds the other carried yarn in the place of one while a third is worked; else chart.NoYarn.
func (r *heldRow) sharing(yarn, working int) int {
	place := r.placeOf(yarn)
	for _, s := range r.YarnPlaces {
		if s.Place == place && s.Yarn.Index != yarn && s.Yarn.Index != working && place != hold.SameSide {
			return s.Yarn.Index
		}
	}
	return chart.NoYarn
}

// joinMotion adds a motion, or its yarn and its letter to the same motion.
func joinMotion(motions []SheetMotion, m SheetMotion) []SheetMotion {
	at := slices.IndexFunc(motions, m.like)
	if at < 0 {
		return append(motions, m)
	}
	motions[at].Letters = append(motions[at].Letters, m.Letters...)
	if !slices.Contains(motions[at].Yarns, m.Yarns[0]) {
		motions[at].Yarns = append(motions[at].Yarns, m.Yarns[0])
	}
	return motions
}

// motionFor finds how one yarn is caught at a stitch worked in another. Where a third yarn shares the place
// of the working one no motion of the hold parts them, so it is led by the fingers, as with one yarn at a
// time. At a stitch worked against its side nothing is woven: it is twisted before.
func (r *heldRow) motionFor(st floats.Stitch, carried int) SheetMotion {
	hands, method, side, place := r.hands, r.grip.FloatMethod(), hold.KnitSide, r.placeOf(carried)
	if r.WrongSide {
		side = hold.PurlSide
	}
	apart := place == r.placeOf(st.Yarn) && hands.Carry == hold.Parallel
	if apart {
		hands.Hold, hands.Lower, place = hold.OneAtATime, hold.NoPlace, hold.FromAbove
	}
	against := st.Technique == chart.Purl
	if against {
		method = floats.Twist
	}
	motion := hands.Motion(side, method, place)
	if against {
		motion = motion.AgainstSide()
	}
	return SheetMotion{Motion: motion, Yarns: []PieceYarn{r.piece.yarn(carried)}, Apart: apart, working: st.Yarn}
}

// like reports whether two motions of one row are the same. A twist is, whichever yarn it catches.
func (m SheetMotion) like(o SheetMotion) bool {
	sameHand := m.Carried == o.Carried || m.Method == floats.Twist && o.Method == floats.Twist
	return sameHand && m.Apart == o.Apart && m.Against == o.Against
}

// placeOf is where a yarn sits in a row; one not worked in it sits where the row's own yarn does not.
func (r *heldRow) placeOf(yarn int) hold.Place {
	for _, s := range r.YarnPlaces {
		if s.Yarn.Index == yarn {
			return s.Place
		}
	}
	for _, place := range r.hands.Places() {
		if len(r.YarnPlaces) > 0 && place != r.YarnPlaces[0].Place {
			return place
		}
	}
	return hold.SameSide
}

// knows reports whether this motion was shown in enough rows held, caught and facing like this one.
func (r *heldRow) knows(motion SheetMotion) bool {
	p, seen := r.piece, 0
	for row := min(r.number-1, p.State.Row); row >= 1 && seen < knownAfter; row-- {
		if p.State.GripAt(row) != r.grip || p.Row(row).WrongSide != r.WrongSide || p.State.DoneRow(row).Unwitnessed {
			continue // or it was shown to nobody
		}
		below := p.held(row)
		alike := func(m Mark) bool { return below.motionFor(below.Stitch(m.Stitch), m.Yarn).like(motion) }
		if slices.ContainsFunc(p.State.DoneRow(row).Shown, alike) {
			seen++
		}
	}
	return seen >= knownAfter
}

// Turns adds up the crossings of all finished rows, each pair of yarns by itself; none in
// flat work, which turns the strands itself. It takes time linear in the stitches knitted.
func (p *Piece) Turns() *hold.Turns { return p.turnsBelow(p.State.Row + 1) }

func (p *Piece) turnsBelow(row int) *hold.Turns {
	t := &hold.Turns{}
	for below := 1; below < row && !p.Layout.Fabric.Flat; below++ {
		p.turn(t, below)
	}
	return t
}

// turn adds the crossings of one row. The first twist of a motion goes in the way that the rows below ask
// for, the next the other way, where there is one, and so on in turn.
func (p *Piece) turn(t *hold.Turns, row int) {
	r, used, next, last := p.held(row), p.State.DoneRow(row).Used, 0, chart.NoYarn
	below, ways := t.Clone(), map[bool]hold.Way{} // by whether both yarns share a place
	motions := map[[3]int]SheetMotion{}           // by the yarn worked, the yarn carried and the technique
	for at, st := range r.All() {
		for ; next < len(used) && used[next].Stitch <= at; next++ {
			if carried := used[next].Yarn; carried != st.Yarn {
				key := [3]int{st.Yarn, carried, int(st.Technique)}
				if _, known := motions[key]; !known {
					motions[key] = r.motionFor(st, carried)
				}
				m := motions[key]
				way, begun := ways[m.Apart]
				if !begun {
					way = below.NextWay(m.Carry, st.Yarn, carried)
				}
				if m.Alternate != nil {
					ways[m.Apart] = hold.Taught + hold.Other - way
				}
				t.Catch(st.Yarn, carried, m.Motion, way)
			}
		}
		if st.Yarn != last {
			t.Use(r.hands.Carry, st.Yarn)
			last = st.Yarn
		}
	}
}

// turning reports whether turns are told of the piece at all: worked in the round, and not
// with a parallel carry and weaves, which leave the strands as they were.
func (p *Piece) turning() bool {
	return !p.Layout.Fabric.Flat && slices.ContainsFunc(p.State.Grips, func(g Grip) bool {
		return g.Hands(false).Carry == hold.Rotating || g.FloatMethod() == floats.Twist
	})
}

// NewTurns tells of the pairs of yarns that have come to hold.MentionAfter new turns with the last finished
// row, by the log alone, as if the knitter had been told each time it was due. It is nil at once where the
// strands never turn, and else takes time linear in the stitches knitted.
func (p *Piece) NewTurns() []hold.Tangle {
	if !p.turning() {
		return nil
	}
	t := &hold.Turns{}
	var due []hold.Tangle
	for row := 1; row <= p.State.Row; row++ {
		p.turn(t, row)
		due = t.Tell()
	}
	return due
}
