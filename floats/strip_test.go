package floats

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// read lists the sets an automaton accepts, in reading order, with their gaps.
func (a *automaton) read(k int, state int32, set, gaps []int, got map[string][]int, key func([]int) string) {
	if k == a.n {
		if len(set) > 0 {
			got[key(set)] = slices.Clone(gaps)
		}
		return
	}
	for _, m := range a.moves[k] {
		if m.from != state {
			continue
		}
		more, now := gaps, set
		for _, g := range []int32{m.gap, m.end} {
			if g >= 0 {
				more = append(slices.Clip(more), int(g))
			}
		}
		if m.caught {
			now = append(slices.Clip(set), k+1)
		}
		a.read(k+1, m.to, now, more, got, key)
	}
}

// An automaton accepts exactly the allowed sets and passes over each of their gaps
// once, read either way.
func TestAutomataAcceptTheAllowedSets(t *testing.T) {
	key := func(set []int) string {
		text := ""
		for _, p := range set {
			text += string(rune('A' + p))
		}
		return text
	}
	for limit := 1; limit <= 4; limit++ {
		for n := limit + 1; n <= 12; n++ {
			for _, m := range []Method{Weave, Twist} {
				for _, mirror := range []bool{false, true} {
					got := map[string][]int{}
					newAutomaton(newShape(rulesFor(n, limit, m)), mirror).read(0, 0, nil, nil, got, key)
					want := naiveSets(n, limit, m)
					require.Len(t, got, len(want), "%d stitches, limit %d %v mirrored %v", n, limit, m, mirror)
					for _, set := range want {
						read := slices.Clone(set)
						if mirror {
							for i := range read {
								read[i] = n + 1 - read[i]
							}
							slices.Reverse(read)
						}
						gaps, found := got[key(read)]
						require.True(t, found, "%v", set)
						require.ElementsMatch(t, naiveGapList(n, m, set), gaps, "%v", set)
					}
				}
			}
		}
	}
}

// randomRows is a small piece of two or three yarns.
func randomRows(rng *rand.Rand, rows int) swatch {
	yarns := ".xo"[:2+rng.IntN(2)]
	s := swatch{repeats: 1 + rng.IntN(3), flat: rng.IntN(3) == 0}
	width := 5 + rng.IntN(9)
	for range rows {
		row := make([]byte, width)
		for c := range row {
			row[c] = yarns[rng.IntN(len(yarns))]
			if c > 0 && rng.IntN(3) > 0 {
				row[c] = row[c-1]
			}
		}
		s.rows = append(s.rows, string(row))
	}
	return s
}

// wholePiece is the work on a piece as one part, before anything was proven.
func wholePiece(f *Fabric, limit int, m Method) *work {
	s := newSolver(context.Background(), f, Task{Limit: limit, Method: m, RestLimit: DefaultRestLimit})
	md := s.md
	all := make([]int, len(md.choices))
	for i := range all {
		all[i] = i
	}
	s.ascent.sweep(true)
	s.ascent.sweep(false)
	s.firstPlan([][]int{all})
	return newWork(s, all, make([]int64, len(md.own)))
}

// TestRowsBoundTrueAndNeverFalling holds the bound by rows to the best plan there is
// and to itself: it never falls from sweep to sweep, and in two rows without a seam
// it is the best plan.
func TestRowsBoundTrueAndNeverFalling(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	tight, compared := 0, 0
	for range 150 {
		piece := randomRows(rng, 1+rng.IntN(4))
		limit, m := 1+rng.IntN(3), Method(rng.IntN(2))
		f := piece.fabric(t)
		p := planOf(t, f, limit, m)
		w := wholePiece(f, limit, m)
		if len(w.part) == 0 {
			continue
		}
		s := newStrips(w.s.md, w.s.ascent, w.part, 1<<14)
		s.start()
		last := s.bound()
		for i := range 6 {
			s.sweep(i%2 == 0)
			now := s.bound()
			require.GreaterOrEqual(t, now, last, "%+v limit %d %v", piece, limit, m)
			last = now
		}
		require.LessOrEqual(t, last, int64(p.Score)*unit, "%+v limit %d %v", piece, limit, m)
		compared++
		if last > int64(p.Score-1)*unit {
			tight++
		}
		if piece.flat && piece.repeats == 1 && len(piece.rows) <= 2 && len(s.list) == 1 {
			require.Greater(t, last, int64(p.Score-1)*unit, "%+v limit %d %v", piece, limit, m)
		}
	}
	assert.Greater(t, tight*4, compared*3)
}

// TestRestripOnlyBetters solves rows anew from a first plan: allowed sets, never a
// worse score, and the best for a single row of a flat piece.
func TestRestripOnlyBetters(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		piece := randomRows(rng, 1+rng.IntN(4))
		limit, m := 1+rng.IntN(4), Method(rng.IntN(2))
		f := piece.fabric(t)
		w := wholePiece(f, limit, m)
		r, md := w.s.round, w.s.md
		before := md.total(r.sets)
		for height := 1; height <= 3; height++ {
			r.restrip(&jointSweep{md: md}, md.rowStrips(w.part, height, 1<<14))
		}
		after := md.total(r.sets)
		require.LessOrEqual(t, after, before)
		made := &Plan{Limit: limit, Method: m, Catches: md.catches(r.sets)}
		groups, sets := naiveSetsOf(t, f, made)
		require.Equal(t, int64(naiveScore(f, limit, m, groups, sets))*unit, after)
		if piece.flat && piece.repeats == 1 && len(piece.rows) <= 3 {
			require.Equal(t, int64(planOf(t, f, limit, m).Score)*unit, after, "%+v limit %d %v", piece, limit, m)
		}
	}
}
