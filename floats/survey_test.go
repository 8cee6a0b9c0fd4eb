package floats

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// surveyed lays out a chart of yarns A, B and C, drawn from the top row down.
func surveyed(t *testing.T, rows string, repeats int, flat bool, limit int) (*Fabric, *Plan, Task) {
	t.Helper()
	text := "yarn: A oat #EFE6D2\nyarn: B fjord #1F4E79\nyarn: C kelp #7E9455\nbackground: A\nrows:\n" + rows
	c, err := chart.Parse("test", []byte(text))
	require.NoError(t, err)
	f, err := Lay([]Part{{Name: "test", Chart: c, Repeats: repeats, Times: 1}}, Work{Flat: flat})
	require.NoError(t, err)
	task := Task{Limit: limit, RestLimit: DefaultRestLimit}
	p, err := MakePlan(context.Background(), f, task)
	require.NoError(t, err)
	return f, p, task
}

func TestSurveyCounts(t *testing.T) {
	f, p, _ := surveyed(t, "ABCAAA\nBAAABA\n", 2, false, 5)
	s := f.Survey(p, DefaultRestLimit)
	assert.Equal(t, []int{2}, s.Crowded)
	total := 0
	for _, l := range s.Lengths {
		sum := 0
		for _, n := range l.ByYarn {
			sum += n
		}
		assert.Equal(t, sum, l.Count)
		total += l.Count
	}
	assert.Equal(t, len(f.Floats(DefaultRestLimit)), total)
	var rows []int
	for _, c := range p.Catches {
		if len(rows) == 0 || rows[len(rows)-1] != c.Row+1 {
			rows = append(rows, c.Row+1)
		}
	}
	assert.Equal(t, rows, s.Caught)
}

func TestSurveyOfTheStart(t *testing.T) {
	// 3 stitches at the end of one round and 3 at the start of the next: 6 over the
	// start, each piece within the limit of 5.
	f, p, _ := surveyed(t, "AAABBBBAAA\nAAABBBBAAA\n", 1, false, 5)
	s := f.Survey(p, DefaultRestLimit)
	assert.Equal(t, []Float{{Yarn: 1, Kind: OverStart, Row: 0, Stitch: 8, Length: 6}}, s.OverStart)
	f, p, _ = surveyed(t, "AAAAAABBBB\nAAAAAABBBB\n", 1, false, 5)
	assert.Empty(t, f.Survey(p, DefaultRestLimit).OverStart, "one piece is too long by itself")
}

// TestStacksThatCannotBeAvoided has floats of 3 at limit 2: only the middle stitch can
// be caught, in every row, so that the catches of neighboring rows stack.
func TestStacksThatCannotBeAvoided(t *testing.T) {
	f, p, task := surveyed(t, "ABBBA\nABBBA\n", 3, false, 2)
	s := f.Survey(p, DefaultRestLimit)
	require.Equal(t, []Stack{{Row: 1, Column: 3, Lower: 0, Upper: 0, Count: 3}}, s.Stacks)
	reliefs, err := f.Relieve(context.Background(), task, s.Stacks)
	require.NoError(t, err)
	require.Len(t, reliefs, 1)
	assert.False(t, reliefs[0].RowsAlone)
	assert.Equal(t, 3, reliefs[0].Limit, "a limit of 3 needs no catch")
	require.NotNil(t, reliefs[0].Stitch)
	assert.Equal(t, OneStitch{Row: 1, Column: 3, Yarn: 0}, *reliefs[0].Stitch)
	assert.Equal(t, chart.Cell{Yarn: 1}, f.Rows[1].Cells[2], "the fabric itself is as it was")
}

// TestStacksAgreeWithTheColumns recounts stacked and near catches from the charts'
// columns.
func TestStacksAgreeWithTheColumns(t *testing.T) {
	for seed, rows := range []string{
		"AAAAAAABBBBBBBBB\nAAAABBBBBBBBBAAA\nABBBBBBBBBAAAAAA\n",
		"ABBBA\nABBBA\nABBBA\n",
	} {
		f, p, _ := surveyed(t, rows, 2, seed == 0, 2)
		stacks, near := f.stacks(p.Catches)
		stacked := 0
		for _, s := range stacks {
			stacked += s.Count
		}
		wantStacked, wantNear := 0, 0
		for _, a := range p.Catches {
			for _, b := range p.Catches {
				if b.Row != a.Row+1 {
					continue
				}
				switch d := columnOf(f, a) - columnOf(f, b); d {
				case 0:
					wantStacked++
				case 1, -1:
					wantNear++
				}
			}
		}
		assert.Equal(t, wantStacked, stacked)
		assert.Equal(t, wantNear, near)
	}
}

func columnOf(f *Fabric, c Catch) int {
	r := &f.Rows[c.Row]
	return r.Stitch(c.Stitch).Column
}

func TestLaddersAndSpots(t *testing.T) {
	far := ""
	for range 4 {
		far += "BAAAAAAAAAAAAAAAAB\n"
	}
	f, p, _ := surveyed(t, far, 1, true, 4)
	s := f.Survey(p, DefaultRestLimit)
	assert.Equal(t, []Ladder{{Yarn: 1, From: 0, To: 3, Longest: 16}}, s.Ladders)
	assert.Empty(t, s.Spots)

	plain := "AAAAAAAAAAAAAAAAAAAA\n"
	f, p, _ = surveyed(t, plain+"AAAAABAAAAAAAAAAAAAA\nAAAABBBAAAAAAAAAAAAA\n"+plain, 2, false, 4)
	s = f.Survey(p, DefaultRestLimit)
	assert.Empty(t, s.Ladders)
	assert.Equal(t, []Spot{{Yarn: 1, From: 1, To: 2, Column: 14, Stitches: 4}}, s.Spots)
}

// A yarn used once in the piece has no float beside its stitch, however wide the row.
func TestNoSpotWithoutAFloat(t *testing.T) {
	plain := "AAAAAAAAAAAAAAAAAAAA\n"
	f, p, _ := surveyed(t, plain+"AAAAABAAAAAAAAAAAAAA\n"+plain, 1, false, 4)
	assert.Empty(t, f.Survey(p, DefaultRestLimit).Spots)
}

func TestRelieveStopsWhenCanceled(t *testing.T) {
	f, p, task := surveyed(t, "ABBBA\nABBBA\n", 3, false, 2)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := f.Relieve(ctx, task, f.Survey(p, 6).Stacks)
	assert.ErrorIs(t, err, context.Canceled, fmt.Sprint(len(p.Catches)))
}
