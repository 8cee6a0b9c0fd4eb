package hold

import "slices"

// The ledger of crossings. Each time a yarn is worked it passes every other yarn that
// was worked since its own last stitch, so for each pair of yarns a crossing falls where
// the pair's use changes from one to the other, whatever a third yarn does in
// between. In a parallel carry one yarn of the pair passes from below, the other from
// above: the crossings alternate and the sum stays at 0 or 1. In a rotating carry
// each comes from under and they add up. Catches add what their motion says.

// MentionAfter is the number of new turns after which a knitter is told of them.
const MentionAfter = 20

const crossingsPerTurn = 2

// PairTurns is the account of two yarns. The fields are exported for the encoding of
// folded state; code outside this package only reads them.
type PairTurns struct {
	A, B    int   // the yarns, A < B
	Sum     int   // crossings so far, with sign
	Told    int   // Sum when the knitter was last told
	Last    int   // the yarn of the two that was worked last
	Changed Sense // of the latest change of yarn, 0 before the first
	Twisted Sense // of the latest twist, 0 before the first
}

// Turns adds up the crossings of a piece for each pair of yarns. The zero value is a
// piece not begun. Yarns are any whole numbers, such as indices into a list.
type Turns struct {
	Seen  []int       // yarns worked so far, in the order they came
	Now   int         // the yarn worked last, when Seen is not empty
	Pairs []PairTurns // in the order the pairs came
}

// Use tells that stitches are worked in the yarn: a run, or the rest of one. A change of
// yarn crosses it with every yarn worked since its own last stitch. It takes time
// linear in the number of pairs, and none when the yarn goes on.
func (t *Turns) Use(c Carry, yarn int) {
	if len(t.Seen) > 0 && t.Now == yarn {
		return
	}
	t.meet(yarn)
	for i := range t.Pairs {
		if p := &t.Pairs[i]; (p.A == yarn || p.B == yarn) && p.Last != yarn {
			p.change(c, yarn)
		}
	}
	t.Now = yarn
}

// meet opens the accounts of a yarn with every yarn seen before it.
func (t *Turns) meet(yarn int) {
	if slices.Contains(t.Seen, yarn) {
		return
	}
	if len(t.Seen) == 0 {
		t.Now = yarn
	}
	for _, other := range t.Seen {
		t.Pairs = append(t.Pairs, PairTurns{A: min(yarn, other), B: max(yarn, other), Last: other})
	}
	t.Seen = append(t.Seen, yarn)
}

func (p *PairTurns) change(c Carry, yarn int) {
	sense := Under
	if c == Parallel && p.Changed == Under {
		sense = Over
	}
	p.Sum, p.Changed, p.Last = p.Sum+int(sense), sense, yarn
}

// NextSense is the sense in which the next twist of two yarns keeps their sum nearest to
// 0. At 0 it is the opposite of their latest twist; the first one is Under.
func (t *Turns) NextSense(a, b int) Sense {
	p := t.pair(a, b)
	switch {
	case p == nil:
		return Under
	case p.Sum > 0, p.Sum == 0 && p.Twisted == Under:
		return Over
	}
	return Under
}

// Catch adds a catch of one yarn while another is worked, its first crossing in the
// given sense. A weave adds nothing. The yarns differ; neither needs to have been worked
// before.
func (t *Turns) Catch(working, carried int, m Motion, sense Sense) {
	if m.Method != Twist {
		return
	}
	t.meet(working)
	t.meet(carried)
	p := t.pair(working, carried)
	p.Sum, p.Twisted = p.Sum+m.CrossingsFor(sense).Net(), sense
}

func (t *Turns) pair(a, b int) *PairTurns {
	a, b = min(a, b), max(a, b)
	for i := range t.Pairs {
		if t.Pairs[i].A == a && t.Pairs[i].B == b {
			return &t.Pairs[i]
		}
	}
	return nil
}

// Sum is the number of crossings of two yarns so far, with sign.
func (t *Turns) Sum(a, b int) int {
	if p := t.pair(a, b); p != nil {
		return p.Sum
	}
	return 0
}

// Tangle is a number of turns of two yarns about each other.
type Tangle struct {
	A, B  int // the yarns, A < B
	Turns int // whole turns, at least 1
	Sense Sense
}

// Tangles lists, in the order the pairs came, the net turns of each pair since the
// piece was begun. A single crossing left over is no turn.
func (t *Turns) Tangles() []Tangle {
	return t.list(1, func(p PairTurns) int { return p.Sum })
}

// Due lists the pairs with MentionAfter or more new turns since the knitter was last
// told; Turns counts the new ones.
func (t *Turns) Due() []Tangle {
	return t.list(MentionAfter, func(p PairTurns) int { return p.Sum - p.Told })
}

func (t *Turns) list(least int, crossings func(PairTurns) int) []Tangle {
	var list []Tangle
	for _, p := range t.Pairs {
		n, sense := crossings(p), Under
		if n < 0 {
			n, sense = -n, Over
		}
		if turns := n / crossingsPerTurn; turns >= least {
			list = append(list, Tangle{p.A, p.B, turns, sense})
		}
	}
	return list
}

// Tell notes that the knitter was told of everything Due lists. Turns of pairs that
// were not due stay new.
func (t *Turns) Tell() {
	for _, due := range t.Due() {
		p := t.pair(due.A, due.B)
		p.Told += due.Turns * crossingsPerTurn * int(due.Sense)
	}
}

// Clone is a copy that shares nothing.
func (t *Turns) Clone() Turns {
	return Turns{slices.Clone(t.Seen), t.Now, slices.Clone(t.Pairs)}
}
