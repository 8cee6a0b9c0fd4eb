package floats

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// pieceOf draws a small piece of two or three yarns, in the round or flat.
func pieceOf(t *rapid.T) swatch {
	yarns := []byte(".xo")[:rapid.IntRange(2, 3).Draw(t, "yarns")]
	s := swatch{
		repeats: rapid.IntRange(1, 3).Draw(t, "repeats"), times: rapid.IntRange(1, 2).Draw(t, "times"),
		flat: rapid.Bool().Draw(t, "flat"),
	}
	width := rapid.IntRange(3, 14).Draw(t, "width")
	for range rapid.IntRange(1, 4).Draw(t, "rows") {
		var row []byte
		for len(row) < width {
			yarn := rapid.SampledFrom(yarns).Draw(t, "yarn")
			for n := rapid.IntRange(1, 9).Draw(t, "run"); n > 0 && len(row) < width; n-- {
				row = append(row, yarn)
			}
		}
		s.rows = append(s.rows, string(row))
	}
	return s
}

func limitOf(t *rapid.T) int     { return rapid.IntRange(1, 6).Draw(t, "limit") }
func methodOf(t *rapid.T) Method { return Method(rapid.IntRange(0, 1).Draw(t, "method")) }

// Gaps within the limit, nothing caught on shorter floats, repeats alike, the score
// as recounted, the bound below it, and the same plan on every run.
func TestPlansHoldTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := pieceOf(t).fabric(t)
		task := Task{Limit: limitOf(t), Method: methodOf(t), RestLimit: DefaultRestLimit, Effort: 100}
		p, err := MakePlan(context.Background(), f, task)
		require.NoError(t, err)
		groups, sets := naiveSetsOf(t, f, p)
		require.Equal(t, naiveScore(f, task.Limit, task.Method, groups, sets), p.Score)
		require.LessOrEqual(t, p.Bound, p.Score)
		require.Equal(t, p.Bound == p.Score, p.Proven)
		again, err := MakePlan(context.Background(), f, task)
		require.NoError(t, err)
		require.Equal(t, p, again)
	})
}

func TestFewestCatchesNeverRiseWithTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, limit, m := rapid.IntRange(3, 200).Draw(t, "n"), rapid.IntRange(1, 30).Draw(t, "limit"), methodOf(t)
		if n <= limit+1 {
			return
		}
		require.GreaterOrEqual(t, rulesFor(n, limit, m).fewest, rulesFor(n, limit+1, m).fewest)
	})
}

// naiveFewest is the fewest catches that keep a float within the limit, found by
// walking: each catch as far on as the limit lets it.
func naiveFewest(n, limit int, m Method) int {
	uncaught, reach := n, limit+1 // a weave takes its own stitch out of the gap
	if m == Twist {
		reach = limit
	}
	catches := 0
	for uncaught > limit {
		uncaught -= reach
		catches++
	}
	return catches
}

// plannedOn counts the catches of each float of a plan.
func plannedOn(f *Fabric, p *Plan) map[Float]int {
	caught := map[Catch]bool{}
	for _, c := range p.Catches {
		caught[c] = true
	}
	on := map[Float]int{}
	for _, fl := range f.Floats(DefaultRestLimit) {
		on[fl] = 0
		for _, c := range naiveCells(f, fl) {
			if caught[Catch{c.row, c.stitch + 1, fl.Yarn}] {
				on[fl]++
			}
		}
	}
	return on
}

// Plans of one piece at rising limits: every float has the fewest catches that can
// do or one more, and the fewest never rise.
func TestPlansTakeNoMoreThanOneOverTheFewest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, m := pieceOf(t).fabric(t), methodOf(t)
		before := map[Float]int{}
		for limit := 1; limit <= 7; limit++ {
			p, err := MakePlan(context.Background(), f, Task{Limit: limit, Method: m, RestLimit: DefaultRestLimit, Effort: 10})
			require.NoError(t, err)
			for fl, made := range plannedOn(f, p) {
				k := naiveFewest(fl.Length, limit, m)
				require.True(t, made == k || k > 0 && made == k+1, "%v: %d catches at limit %d, fewest %d", fl, made, limit, k)
				if last, ok := before[fl]; ok {
					require.LessOrEqual(t, k, last, "%v at limit %d", fl, limit)
				}
				before[fl] = k
			}
		}
	})
}

// A chart drawn the other way round for a knitter who works the other way is the
// same knitting.
func TestChartAndKnitterMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, task := pieceOf(t), Task{Limit: limitOf(t), Method: methodOf(t), RestLimit: DefaultRestLimit, Effort: 10}
		other := s
		other.mirror, other.rows = !s.mirror, nil
		for _, row := range s.rows {
			back := []byte(row)
			slices.Reverse(back)
			other.rows = append(other.rows, string(back))
		}
		mine, err := MakePlan(context.Background(), s.fabric(t), task)
		require.NoError(t, err)
		theirs, err := MakePlan(context.Background(), other.fabric(t), task)
		require.NoError(t, err)
		require.Equal(t, mine, theirs)
	})
}

// Row by row there are the same floats and rests as in the whole piece; a float over
// the start is met in both its rows.
func TestRowByRowAsTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, rest := pieceOf(t).fabric(t), rapid.IntRange(0, 6).Draw(t, "rest")
		met := map[Float]int{}
		for r := range f.Rows {
			for _, fl := range f.RowFloats(r, rest) {
				met[fl]++
			}
			var want []Rest
			for _, re := range f.Rests(rest) {
				if re.FromRow <= r && r <= re.ToRow {
					want = append(want, re)
				}
			}
			require.ElementsMatch(t, want, f.RowRests(r, rest), "row %d", r)
		}
		whole := f.Floats(rest)
		require.Len(t, met, len(whole))
		for _, fl := range whole {
			rows := map[int]bool{}
			for _, c := range naiveCells(f, fl) {
				rows[c.row] = true
			}
			require.Equal(t, len(rows), met[fl], "%v", fl)
		}
	})
}
