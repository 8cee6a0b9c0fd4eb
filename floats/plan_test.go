package floats

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func planOf(t require.TestingT, f *Fabric, limit int, m Method) *Plan {
	p, err := MakePlan(context.Background(), f, Task{Limit: limit, Method: m, RestLimit: DefaultRestLimit})
	require.NoError(t, err)
	groups, sets := naiveSetsOf(t, f, p)
	require.Equal(t, naiveScore(f, limit, m, groups, sets), p.Score, "the score told and the score counted")
	require.LessOrEqual(t, p.Bound, p.Score)
	return p
}

// rowOf is the row of the given stitches, in bits, the lowest bit at the right.
func rowOf(bits, width int) string {
	row := make([]byte, width)
	for i := range row {
		row[width-1-i] = ".x"[bits>>i&1]
	}
	return string(row)
}

// Full enumeration, by arithmetic: every two-yarn row up to 12 stitches, limits 1 to
// 5, weave and twist, in the round and flat.
func TestEveryShortRowAgainstAllPlans(t *testing.T) {
	for width := 2; width <= 12; width++ {
		for bits := range 1 << width {
			f := swatch{rows: []string{rowOf(bits, width)}}.fabric(t)
			for limit := 1; limit <= 5; limit++ {
				for _, m := range []Method{Weave, Twist} {
					p := planOf(t, f, limit, m)
					best, ok := naiveBest(f, limit, m, 1_000_000)
					require.True(t, ok)
					if p.Score != best || !p.Proven {
						t.Fatalf("row %s limit %d %v: %d, bound %d, best %d", rowOf(bits, width), limit, m, p.Score, p.Bound, best)
					}
				}
			}
		}
	}
}

// Three rows over each other: all of them up to 3 columns, random ones up to 6; one
// and two repeats, round and flat.
func TestThreeRowsAgainstAllPlans(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 6))
	try := func(width, bits, compared int) int {
		mask := 1<<width - 1
		rows := []string{rowOf(bits&mask, width), rowOf(bits>>width&mask, width), rowOf(bits>>(2*width)&mask, width)}
		for _, s := range []swatch{
			{rows: rows}, {rows: rows, repeats: 2}, {rows: rows, flat: true}, {rows: rows, repeats: 2, flat: true},
		} {
			f := s.fabric(t)
			for limit := 1; limit <= 3; limit++ {
				for _, m := range []Method{Weave, Twist} {
					p := planOf(t, f, limit, m)
					best, ok := naiveBest(f, limit, m, 3000)
					if !ok {
						continue
					}
					compared++
					if p.Score != best || !p.Proven {
						t.Fatalf("%+v limit %d %v: %d, bound %d, best %d", s, limit, m, p.Score, p.Bound, best)
					}
				}
			}
		}
		return compared
	}
	compared := 0
	for width := 2; width <= 3; width++ {
		for bits := range 1 << (3 * width) {
			compared = try(width, bits, compared)
		}
	}
	for range 250 {
		width := 4 + rng.IntN(3)
		compared = try(width, rng.IntN(1<<(3*width)), compared)
	}
	assert.Greater(t, compared, 15_000, "too many pieces were too large to compare")
}

// Three yarns, where two can be carried behind one stitch.
func TestThreeYarnsAgainstAllPlans(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	compared := 0
	for i := range 1000 {
		width := 4 + rng.IntN(7)
		rows := make([]string, 1+rng.IntN(3))
		for r := range rows {
			row := make([]byte, width)
			for c := range row {
				row[c] = ".xo"[rng.IntN(3)]
				if c > 0 && rng.IntN(2) == 0 {
					row[c] = row[c-1]
				}
			}
			rows[r] = string(row)
		}
		s := swatch{rows: rows, repeats: 1 + rng.IntN(2), flat: rng.IntN(2) == 0}
		limit, m := 1+rng.IntN(4), Method(rng.IntN(2))
		f := s.fabric(t)
		p := planOf(t, f, limit, m)
		if best, ok := naiveBest(f, limit, m, 2000); ok {
			compared++
			require.Equal(t, best, p.Score, fmt.Sprintf("%d: %+v limit %d %v", i, s, limit, m))
			require.True(t, p.Proven, fmt.Sprintf("%d: %+v limit %d %v: bound %d of %d", i, s, limit, m, p.Bound, p.Score))
		}
	}
	assert.Greater(t, compared, 700)
}
