package hold

import (
	"fmt"
	"slices"
)

// The ledger of crossings. Each time a yarn is worked it passes every other yarn that
// was worked since its own last stitch, so for each pair of yarns a crossing falls where
// the pair's use changes from one to the other, whatever a third yarn does in
// between. In a parallel carry one yarn of the pair passes from below, the other from
// above: the crossings alternate and the sum stays at 0 or 1. In a rotating carry
// each comes from under and they add up. Catches add what their motion leaves. All this is
// said of work in the round with the right side facing: flat work reverses every sign with
// the side, and turning it turns the strands itself, so no turns are told there.

// MentionAfter is the number of new turns after which a knitter is told of them.
const MentionAfter = 20

const crossingsPerTurn = 2

type pairTurns struct {
	a, b    int // the yarns, a < b
	sum     int // crossings so far, with sign
	told    int // the sum when the knitter was last told
	last    int // the yarn of the two that was worked last
	changed int // the latest change of yarn: +1 or -1, 0 before the first
}

// Turns adds up the crossings of a piece for each pair of yarns. The zero value is a
// piece not begun. Yarns are any whole numbers, such as indices into a list.
type Turns struct {
	seen  []int       // yarns worked so far, in the order they came
	pairs []pairTurns // in the order the pairs came
}

// Use tells that stitches are worked in the yarn. A change of yarn crosses it with every yarn worked since
// its own last stitch. The time is linear in the number of pairs.
func (t *Turns) Use(c Carry, yarn int) {
	t.meet(yarn)
	for i := range t.pairs {
		if p := &t.pairs[i]; (p.a == yarn || p.b == yarn) && p.last != yarn {
			p.change(c, yarn)
		}
	}
}

// meet opens the accounts of a yarn with every yarn seen before it.
func (t *Turns) meet(yarn int) {
	if slices.Contains(t.seen, yarn) {
		return
	}
	for _, other := range t.seen {
		t.pairs = append(t.pairs, pairTurns{a: min(yarn, other), b: max(yarn, other), last: other})
	}
	t.seen = append(t.seen, yarn)
}

func (p *pairTurns) change(c Carry, yarn int) {
	sense := 1
	if c == Parallel && p.changed == 1 {
		sense = -1
	}
	p.sum, p.changed, p.last = p.sum+sense, sense, yarn
}

// NextWay is the way of the next twist of two yarns: the taught one, and the other only
// where it takes out a turn that taught ones have left in a parallel carry.
func (t *Turns) NextWay(c Carry, a, b int) Way {
	if c == Parallel && t.Sum(a, b) <= -crossingsPerTurn {
		return Other
	}
	return Taught
}

// Catch adds a catch of one yarn while another is worked, a twist in the given way.
func (t *Turns) Catch(working, carried int, m Motion, w Way) {
	net := m.crossings(w)
	if net == 0 {
		return
	}
	t.meet(working)
	t.meet(carried)
	t.pair(working, carried).sum += net
}

func (t *Turns) pair(a, b int) *pairTurns {
	a, b = min(a, b), max(a, b)
	for i := range t.pairs {
		if t.pairs[i].a == a && t.pairs[i].b == b {
			return &t.pairs[i]
		}
	}
	return nil
}

// Sum is the number of crossings of two yarns so far, with sign.
func (t *Turns) Sum(a, b int) int {
	if p := t.pair(a, b); p != nil {
		return p.sum
	}
	return 0
}

// Tangle is a number of turns of two yarns about each other.
type Tangle struct {
	A, B  int // the yarns, A < B
	Turns int // whole turns, at least 1
}

// Untangle says how to take the turns out; a and b are the names of the yarns A and B.
func (t Tangle) Untangle(a, b string) string {
	turns := "1 turn"
	if t.Turns > 1 {
		turns = fmt.Sprintf("%d turns", t.Turns)
	}
	return fmt.Sprintf("%s and %s have %s about each other: make the stitches fast, hold both strands, and let the work hang and spin until they lie straight.", a, b, turns)
}

// Tangles lists the net turns of each pair since the piece was begun; one crossing left over is no turn.
func (t *Turns) Tangles() []Tangle {
	return t.list(1, func(p pairTurns) int { return p.sum })
}

// Tell lists the pairs with MentionAfter or more new turns since the knitter was last
// told, and notes that she was; Turns counts the new ones. Those of other pairs stay new.
func (t *Turns) Tell() []Tangle {
	due := t.list(MentionAfter, func(p pairTurns) int { return p.sum - p.told })
	for _, d := range due {
		p := t.pair(d.A, d.B)
		p.told += (p.sum - p.told) / crossingsPerTurn * crossingsPerTurn
	}
	return due
}

func (t *Turns) list(least int, crossings func(pairTurns) int) []Tangle {
	var list []Tangle
	for _, p := range t.pairs {
		n := crossings(p)
		if turns := max(n, -n) / crossingsPerTurn; turns >= least {
			list = append(list, Tangle{p.a, p.b, turns})
		}
	}
	return list
}

// Clone is a copy that shares nothing.
func (t *Turns) Clone() Turns {
	return Turns{slices.Clone(t.seen), slices.Clone(t.pairs)}
}
