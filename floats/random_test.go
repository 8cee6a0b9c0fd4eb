package floats

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// randomWork is a random chart laid out at random and what it is planned for: 2 to 4
// yarns, in runs, by the stitch, or a few stitches on a ground; round and flat, 1 to 8
// repeats, rests of 0 to 6 rows, weave and twist, limits 2 to 8.
func randomWork(rng *rand.Rand, most int) (*Fabric, Task) {
	part := randomPart(rng, 2+rng.IntN(3), 3+rng.IntN(most), 2+rng.IntN(most), 8)
	for range rng.IntN(8) / 3 { // three in eight pieces have other blocks beside
		beside := randomPart(rng, len(part.Chart.Yarns), 1+rng.IntN(most), part.Chart.Height(), 4)
		beside.Times = part.Times
		part.Beside = append(part.Beside, beside)
	}
	w := Work{Flat: rng.IntN(2) == 0, Mirror: rng.IntN(4) == 0}
	if !w.Flat && rng.IntN(8) == 0 {
		part.Beside = append(part.Beside, Part{Name: "steek", Steek: 3 + rng.IntN(5)})
	}
	f, err := Lay([]Part{part}, w)
	if err != nil {
		panic(fmt.Sprintf("a random chart cannot be laid: %v", err))
	}
	return f, Task{Limit: 2 + rng.IntN(7), Method: Method(rng.IntN(2)), RestLimit: rng.IntN(7)}
}

// randomPart is a random chart, up to so many repeats of it, once or twice up.
func randomPart(rng *rand.Rand, yarns, width, height, repeats int) Part {
	c, kind := &chart.Chart{Yarns: fourYarns()[:yarns]}, rng.IntN(3)
	for range height {
		row := make([]rune, width)
		at := 0
		for i := range row {
			switch {
			case kind == 0 && i > 0 && rng.IntN(4) > 0: // runs of four
			case kind == 2 && rng.IntN(12) > 0: // 8 % pattern
				at = 0
			default:
				at = rng.IntN(len(c.Yarns))
			}
			row[i] = c.Yarns[at].Symbol
		}
		c.Rows = append(c.Rows, row)
	}
	return Part{Name: "random", Chart: c, Repeats: 1 + rng.IntN(repeats), Times: 1 + rng.IntN(2)}
}

func fourYarns() []chart.Yarn {
	return []chart.Yarn{
		{Symbol: '.', Name: "oat", Color: chart.Color{R: 0xEF, G: 0xE6, B: 0xD2}},
		{Symbol: 'x', Name: "fjord", Color: chart.Color{R: 0x1F, G: 0x4E, B: 0x79}},
		{Symbol: 'o', Name: "ember", Color: chart.Color{R: 0xB5, G: 0x40, B: 0x2A}},
		{Symbol: 'k', Name: "kelp", Color: chart.Color{R: 0x7E, G: 0x94, B: 0x55}},
	}
}

// The plain checker, which shares no code with the planner, finds nothing in any plan.
// How many charts, and with what effort: survey_few_test.go, survey_many_test.go.
func TestRandomPlansHoldTheRules(t *testing.T) {
	rng := rand.New(rand.NewPCG(636, 2))
	proven, catches := 0, 0
	for i := range randomCharts {
		f, task := randomWork(rng, 28)
		task.Effort = randomEffort
		p, err := MakePlan(t.Context(), f, task)
		require.NoError(t, err, "chart %d", i)
		require.NoError(t, f.Check(p.Catches, task), "chart %d", i)
		require.LessOrEqual(t, p.Bound, p.Score, "chart %d", i)
		catches += len(p.Catches)
		if p.Proven {
			proven++
		}
	}
	t.Logf("%d charts, %d catches, %d proven", randomCharts, catches, proven)
	assert.Positive(t, catches)
}

// Rows worked otherwise than planned, one after another: each is shown adjusted to what
// was made below, and holds the rules as far as the stitches still to work can.
func TestRandomDeviationsKeepTheRules(t *testing.T) {
	rng := rand.New(rand.NewPCG(5000, 3))
	rows, moved, lost := 0, 0, 0
	for rows < randomDeviations {
		f, task := randomWork(rng, 10)
		task.Effort = 1
		p, err := MakePlan(t.Context(), f, task)
		require.NoError(t, err)
		plan := make([][]Catch, len(f.Rows)+1)
		for _, c := range p.Catches {
			plan[c.Row] = append(plan[c.Row], c)
		}
		d := Deviation{Task: task, Made: task.Method, Plan: func(r int) []Catch { return plan[r] }}
		for d.Row = range f.Rows {
			shown := f.Adjust(d)
			gone, err := f.CheckRow(d, shown)
			require.NoError(t, err)
			if d.Row > 0 && !slices.Equal(d.Below, plan[d.Row-1]) {
				rows++
			}
			if !slices.Equal(shown, plan[d.Row]) {
				moved++
			}
			lost += len(gone)
			d.Below = deviated(rng, f, d.Row, shown)
			if d.Made = task.Method; rng.IntN(16) == 0 {
				d.Made = 1 - d.Made
			}
		}
	}
	t.Logf("%d rows above catches made otherwise than planned, %d shown otherwise than planned, %d rules that could no longer be kept", rows, moved, lost)
	assert.Positive(t, moved)
	assert.Positive(t, lost)
}

// deviated is a row's catches as a knitter might have made them: some missed, some moved,
// one made where none was shown.
func deviated(rng *rand.Rand, f *Fabric, row int, shown []Catch) []Catch {
	var made []Catch
	add := func(c Catch) {
		if c.Stitch >= 1 && c.Stitch <= f.Rows[row].Stitches() && f.Rows[row].Stitch(c.Stitch).Yarn != c.Yarn && !slices.Contains(made, c) {
			made = append(made, c)
		}
	}
	for _, c := range shown {
		switch rng.IntN(8) {
		case 0: // missed
		case 1:
			c.Stitch += rng.IntN(5) - 2
			add(c)
		default:
			add(c)
		}
	}
	if rng.IntN(4) == 0 {
		add(Catch{row, 1 + rng.IntN(f.Rows[row].Stitches()), rng.IntN(len(f.Yarns))})
	}
	sortCatches(made)
	return made
}
