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
