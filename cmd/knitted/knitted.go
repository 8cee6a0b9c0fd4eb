// Package knitted is pieces for the tests of whatever shows one: the examples and random charts,
// each knitted with some catches astray. In come a test and what is to differ; out go pieces. No
// program imports it.
package knitted

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
)

// Knitting is a piece knitted for a test.
type Knitting struct {
	Chart string // text of its chart
	Setup session.CastOn
	Rows  int      // how many rows are knitted; -1 is all
	Stray float64  // share of catches made otherwise than shown
	Even  bool     // planned without the planner: a catch after every limit stitches
	Notes []string // on the first row
	Seed  uint64
}

// Examples are the example charts, each knitted with some catches astray.
func Examples(t testing.TB) map[string]Knitting {
	t.Helper()
	of := func(file, gauge string, repeats, times, limit int, flat bool, item session.Item) Knitting {
		text, err := os.ReadFile("../../examples/" + file + ".chart")
		require.NoError(t, err)
		return Knitting{Chart: string(text), Rows: -1, Stray: 0.12, Seed: 7, Setup: session.CastOn{
			Name: file, Gauge: gauge, Limit: limit, Flat: flat, Item: item,
			Parts: []session.PartRef{{Name: file + ".chart", Repeats: repeats, Times: times}},
		}}
	}
	return map[string]Knitting{
		"lantern-band":   of("lantern-band", "20x22/4in", 4, 1, 5, false, session.General),
		"mooring-mitten": of("mooring-mitten", "20x22/4in", 1, 1, 5, false, session.HandsFeet),
		"tide-yoke":      of("tide-yoke", "24x28/4in", 20, 1, 6, false, session.General),
		"pier-panel":     of("pier-panel", "20x22/4in", 1, 1, 5, true, session.General),
		"night-sea":      of("night-sea", "24x26/4in", 4, 2, 6, false, session.General),
		"practice":       of("practice", "", 3, 1, 5, false, session.General),
	}
}

// Evening is when the knitting begins.
var Evening = time.Date(2031, 3, 9, 18, 0, 0, 0, time.FixedZone("", 3600))

// Knit makes the piece: casts on, plans, and knits row by row. Rows come two minutes apart,
// a night after every twenty.
func (k Knitting) Knit(t testing.TB) *session.Piece {
	t.Helper()
	p := &session.Piece{}
	c, err := chart.Parse("test.chart", []byte(k.Chart))
	require.NoError(t, err)
	setup := k.Setup
	setup.Parts = slices.Clone(setup.Parts)
	setup.Parts[0].Rows, setup.Parts[0].Hash = c.Height(), [32]byte{1}
	for i := range setup.Parts[0].Beside {
		if beside := &setup.Parts[0].Beside[i]; beside.Steek == 0 {
			beside.Rows, beside.Hash = c.Height(), [32]byte{1}
		}
	}
	setup.RestLimit = 6
	if setup.Hold == "" {
		setup.Grip = session.Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: session.DominantPattern}
	}
	var records []session.Record
	log := func(e session.Event) {
		kind, payload := session.Encode(e)
		n := len(records)
		at := Evening.Add(time.Duration(n)*2*time.Minute + time.Duration(n/20)*20*time.Hour)
		records = append(records, session.Record{Seq: uint64(n + 1), Kind: kind, At: at, Payload: payload})
	}
	fold := func() {
		p.State, err = session.Fold(records)
		require.NoError(t, err)
	}
	log(&setup)
	fold()
	p.Layout, err = p.State.Lay(func([32]byte) (*chart.Chart, error) { return c, nil })
	require.NoError(t, err)
	plan := evenPlan(p.Layout.Fabric, p.State.Task())
	if !k.Even {
		plan, err = floats.MakePlan(context.Background(), p.Layout.Fabric, p.State.Task())
		require.NoError(t, err)
	}
	p.Schedule = session.NewSchedule(plan, p.Rows())
	for _, text := range k.Notes {
		log(&session.Noted{Text: text, Row: 1})
	}
	rows := k.Rows
	if rows < 0 {
		rows = p.Rows()
	}
	random := rand.New(rand.NewPCG(k.Seed, 1))
	for row := 1; row <= rows; row++ {
		shown := p.Schedule.Row(row)
		log(&session.RowKnit{Row: row, Shown: shown, Used: k.astray(random, p.Row(row), shown), Unwitnessed: row%17 == 0})
	}
	fold()
	return p
}

// evenPlan catches every float over the limit, plainly. A picture must tell the truth of any
// plan, and the planner takes its time for small random charts. A weave closes on the next stitch
// and its own lies in no gap.
func evenPlan(f *floats.Fabric, t floats.Task) *floats.Plan {
	p := &floats.Plan{Limit: t.Limit, Method: t.Method}
	own := 1
	if t.Method == floats.Twist {
		own = 0
	}
	for _, fl := range f.Floats(t.RestLimit) {
		for free := 0; fl.Length-free > t.Limit; {
			at := min(free+t.Limit, fl.Length-1-own)
			free = at + own
			row, stitch := fl.Row, fl.Stitch+at
			if n := f.Rows[row].Stitches(); stitch > n {
				row, stitch = row+1, stitch-n
			}
			p.Catches = append(p.Catches, floats.Catch{Row: row, Stitch: stitch, Yarn: fl.Yarn})
		}
	}
	slices.SortFunc(p.Catches, func(a, b floats.Catch) int { return cmp.Or(a.Row-b.Row, a.Stitch-b.Stitch, a.Yarn-b.Yarn) })
	return p
}

// astray drops, moves and adds catches.
func (k Knitting) astray(random *rand.Rand, r *floats.Row, shown []session.Mark) []session.Mark {
	var used []session.Mark
	for _, m := range shown {
		if random.Float64() >= k.Stray {
			used = append(used, m)
			continue
		}
		if m.Stitch += random.IntN(5) - 2; random.IntN(3) > 0 && fits(r, m) {
			used = append(used, m)
		}
	}
	if m := (session.Mark{Stitch: 1 + random.IntN(r.Stitches()), Yarn: random.IntN(2)}); random.Float64() < k.Stray && fits(r, m) {
		used = append(used, m)
	}
	slices.SortFunc(used, session.Mark.Compare)
	return slices.Compact(used)
}

// fits reports whether a yarn can be caught there: on a stitch of another.
func fits(r *floats.Row, m session.Mark) bool {
	return m.Stitch >= 1 && m.Stitch <= r.Stitches() && r.Stitch(m.Stitch).Yarn != m.Yarn
}

// Blocks is a random piece with a second block of its chart beside the first, and mostly a steek.
func Blocks(seed uint64) Knitting {
	k := Random(seed)
	first := &k.Setup.Parts[0]
	first.Beside = []session.PartRef{{Name: first.Name, Repeats: 1 + int(seed%3), Times: first.Times}}
	if seed%4 > 0 && !k.Setup.Flat {
		first.Beside = append(first.Beside, session.PartRef{Name: "steek", Steek: 3 + int(seed%4), Times: 1})
	}
	return k
}

// Random draws a small piece of any kind from a seed.
func Random(seed uint64) Knitting {
	random := rand.New(rand.NewPCG(seed, 2))
	symbols := []string{".x", ".xk", "....xxk", "xxxxx.", ".xxxx_", "......x"}[random.IntN(6)]
	width, height := 1+random.IntN(18), 1+random.IntN(9)
	rows := make([]string, height)
	for i := range rows {
		cells := make([]byte, width)
		for j := range cells {
			cells[j] = symbols[random.IntN(len(symbols))]
		}
		cells[random.IntN(width)] = '.'
		rows[i] = string(cells)
	}
	method := []string{"weave", "twist"}[random.IntN(2)]
	return Knitting{
		Chart: fmt.Sprintf("yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nyarn: k kelp #7E9455\nempty: _\nrows:\n%s\n", strings.Join(rows, "\n")),
		Setup: session.CastOn{
			Name: "pier", Gauge: []string{"", "20/4in", "22x24/10cm"}[random.IntN(3)], Limit: 2 + random.IntN(5),
			Flat: random.IntN(2) == 0, Mirror: random.IntN(2) == 0,
			Parts: []session.PartRef{{Name: "pier.chart", Repeats: 1 + random.IntN(4), Times: 1 + random.IntN(3)}},
			Grip:  session.Grip{Hold: "two-hands", Carry: "parallel", Method: method, Dominant: session.DominantPattern},
		},
		Rows: 1 + random.IntN(height), Stray: 0.3, Seed: seed, Even: true,
	}
}
