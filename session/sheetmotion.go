package session

import (
	"slices"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session/hold"
)

// SheetMotion is the motion that makes some of a row's catches.
type SheetMotion struct {
	hold.Motion
	Yarns []int      // the yarns it catches in this row, in order of their first catch
	Known bool       // it was shown in knownAfter rows before: the short form will do
	Sense hold.Sense // of a twist: the sense of the first in the row, to alternate from
	Apart bool       // both yarns share a place, so it is made one at a time

	working int // the yarn worked at the first of these catches
}

// knownAfter is the number of rows after which a motion is taken for known: our
// choice.
const knownAfter = 3

// motions gives the motions of a row in the order in which they are first needed.
func (p *Piece) motions(row int, s *Sheet) []SheetMotion {
	var motions []SheetMotion
	catches := s.Catches
	for _, d := range s.Differ {
		catches = append(catches[:len(catches):len(catches)], d.Also...)
	}
	for _, c := range catches {
		m := p.motionFor(row, s.Order[c.Stitch-1].Yarn, c.Yarn)
		motions = join(motions, m)
	}
	for i := range motions {
		motions[i].Known = p.knows(row, motions[i])
	}
	p.fillSenses(row, s, motions)
	return motions
}

// fillSenses says in which sense each twist of a row begins. The turns of the rows
// below decide; rows that come later than the next one are not known yet.
func (p *Piece) fillSenses(row int, s *Sheet, motions []SheetMotion) {
	if s.Method != floats.Twist || row > p.State.Row+1 {
		return
	}
	below := p.turnsBelow(row)
	for i := range motions {
		m := &motions[i]
		m.Sense = below.NextSense(m.working, m.Yarns[0])
	}
}

// join adds a motion, or its yarn to the same motion.
func join(motions []SheetMotion, m SheetMotion) []SheetMotion {
	for i := range motions {
		if motions[i].like(m) {
			for _, y := range motions[i].Yarns {
				if y == m.Yarns[0] {
					return motions
				}
			}
			motions[i].Yarns = append(motions[i].Yarns, m.Yarns[0])
			return motions
		}
	}
	return append(motions, m)
}

// motionFor finds how one yarn is caught while another is worked. Where a third
// yarn shares the place of the working one no motion of the hold parts them, so it
// is made as with one yarn at a time.
func (p *Piece) motionFor(row, working, carried int) SheetMotion {
	grip, mirror := p.State.GripAt(row), p.State.Setup.Mirror
	h, c, m := grip.words()
	side := hold.KnitSide
	if p.Row(row).WrongSide {
		side = hold.PurlSide
	}
	place, workingPlace := p.placeOf(row, carried), p.placeOf(row, working)
	apart := place == workingPlace && c == hold.Parallel
	if apart {
		h, place = hold.OneAtATime, hold.FromAbove
	}
	motion, err := hold.Find(h, c, side, m, place, mirror)
	if err != nil {
		panic("session: the seats name a place without a motion: " + err.Error())
	}
	return SheetMotion{Motion: motion, Yarns: []int{carried}, Apart: apart, working: working}
}

// motionAt finds how a catch of a row is made.
func (p *Piece) motionAt(row int, m Mark) SheetMotion {
	order := p.Row(row).InOrder()
	return p.motionFor(row, order[(m.Stitch-1)%len(order)].Yarn, m.Yarn)
}

// like reports whether two motions of one row are the same.
func (m SheetMotion) like(o SheetMotion) bool { return m.Carried == o.Carried && m.Apart == o.Apart }

// words reads the grip's words, which were checked when it was logged.
func (g Grip) words() (hold.Hold, hold.Carry, hold.Method) {
	h, _ := hold.ParseHold(g.Hold)
	c, _ := hold.ParseCarry(g.Carry)
	m, _ := hold.ParseMethod(g.Method)
	return h, c, m
}

// placeOf is where a yarn sits in a row. A yarn carried behind a row it is not
// worked in sits where the row's own yarn does not.
func (p *Piece) placeOf(row, yarn int) hold.Place {
	seats := p.Seats(row)
	for _, s := range seats {
		if s.Yarn == yarn {
			return s.Place
		}
	}
	h, c, _ := p.State.GripAt(row).words()
	for _, place := range hold.Places(h, c, p.State.Setup.Mirror) {
		if len(seats) > 0 && place != seats[0].Place {
			return place
		}
	}
	return hold.SameSide
}

// knows reports whether a catch by this motion was shown in enough rows before, with the
// hold, method and side of this row.
func (p *Piece) knows(row int, motion SheetMotion) bool {
	grip, side, seen := p.State.GripAt(row), p.Row(row).WrongSide, 0
	for r := min(row-1, p.State.Row); r >= 1 && seen < knownAfter; r-- {
		if p.State.GripAt(r) != grip || p.Row(r).WrongSide != side || p.State.DoneRow(r).Unwitnessed {
			continue // or it was shown to nobody
		}
		if slices.ContainsFunc(p.State.DoneRow(r).Shown, func(m Mark) bool { return p.motionAt(r, m).like(motion) }) {
			seen++
		}
	}
	return seen >= knownAfter
}

// Turns adds up the crossings of all finished rows, each pair of yarns by itself.
// It takes time linear in the stitches knitted.
func (p *Piece) Turns() *hold.Turns { return p.turnsBelow(p.State.Row + 1) }

// turnsBelow adds up the rows below one, which are finished.
func (p *Piece) turnsBelow(row int) *hold.Turns {
	t := &hold.Turns{}
	for below := 1; below < row; below++ {
		p.turn(t, below, p.State.DoneRow(below).Used)
	}
	return t
}

// twists counts the catches of one row off as the sheet tells them: the first of each
// motion in the sense that the turns below ask for, the next in the opposite one, and
// so on in turn.
type twists struct {
	below   hold.Turns
	motions map[[2]int]SheetMotion // by the yarn worked and the yarn caught
	next    map[twistKey]hold.Sense
}

type twistKey struct {
	carried hold.Place
	apart   bool
}

// sense is that of the next catch by a motion.
func (w *twists) sense(m SheetMotion, working, carried int) hold.Sense {
	key := twistKey{m.Carried, m.Apart}
	sense, begun := w.next[key]
	if !begun {
		sense = w.below.NextSense(working, carried)
	}
	w.next[key] = -sense
	return sense
}

// turn adds the crossings of one row.
func (p *Piece) turn(t *hold.Turns, row int, used []Mark) {
	r := p.Row(row)
	_, carry, _ := p.State.GripAt(row).words()
	next := 0
	last := chart.NoYarn
	w := twists{below: t.Clone(), motions: map[[2]int]SheetMotion{}, next: map[twistKey]hold.Sense{}}
	for rep := range r.Repeats {
		for i, st := range r.InOrder() {
			at := rep*r.RepeatStitches() + i + 1
			for ; next < len(used) && used[next].Stitch <= at; next++ {
				if used[next].Yarn == st.Yarn {
					continue
				}
				pair := [2]int{st.Yarn, used[next].Yarn}
				if _, known := w.motions[pair]; !known {
					w.motions[pair] = p.motionFor(row, pair[0], pair[1])
				}
				m := w.motions[pair]
				t.Catch(pair[0], pair[1], m.Motion, w.sense(m, pair[0], pair[1]))
			}
			if st.Yarn != last {
				t.Use(carry, st.Yarn)
				last = st.Yarn
			}
		}
	}
}

// turning reports whether the strands of the piece turn about each other at all: a
// parallel carry with weaves leaves them as they were.
func (p *Piece) turning() bool {
	for _, g := range p.State.Grips {
		if _, c, _ := g.words(); c == hold.Rotating || g.FloatMethod() == floats.Twist {
			return true
		}
	}
	return false
}
