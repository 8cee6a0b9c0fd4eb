package floats

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime/debug"
	"runtime/metrics"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// panel lays a generated two-yarn chart out.
func panel(tb testing.TB, width, height, repeats int) *Fabric {
	tb.Helper()
	c := generatedSize(rand.New(rand.NewPCG(uint64(width), uint64(height))), width, height, 2)
	f, err := Lay([]Part{{Name: "panel", Chart: c, Repeats: repeats, Times: 1}}, Work{})
	require.NoError(tb, err)
	return f
}

var panelTask = Task{Limit: 5, RestLimit: DefaultRestLimit}

// course is how a plan came about: when each plan in hand was there, counted from the
// start, and how much better than the one before it was.
type course struct {
	s      *solver
	when   []time.Duration
	gained []int64 // in units
	end    time.Duration
}

// followed makes a plan and notes its course.
func followed(tb testing.TB, f *Fabric) *course {
	tb.Helper()
	c := &course{}
	start := time.Now()
	c.s = newSolver(context.Background(), f, panelTask, 0, len(f.Rows))
	c.s.watch = func(gained int64) {
		c.when, c.gained = append(c.when, time.Since(start)), append(c.gained, gained)
	}
	require.NoError(tb, c.s.run())
	c.end = time.Since(start)
	return c
}

// within is the time until a complete plan was in hand that scores at most so much
// (0.02: 2 %) over the bound known in the end.
func (c *course) within(gap float64) time.Duration {
	left := c.s.md.total(c.s.sets)
	at := c.when[len(c.when)-1]
	for i := len(c.when) - 1; i >= 0; i-- {
		if float64(left) > float64(c.s.bound)*unit*(1+gap) {
			break
		}
		at, left = c.when[i], left+c.gained[i]
	}
	return at
}

// mostHeld runs f and gives the most memory the Go runtime held while it ran, in MiB:
// all it had from the system but what it had given back, looked at every millisecond.
func mostHeld(f func()) float64 {
	debug.FreeOSMemory()
	done, most := make(chan struct{}), make(chan uint64)
	go func() {
		samples := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
		held := uint64(0)
		for tick := time.NewTicker(time.Millisecond); ; {
			metrics.Read(samples)
			held = max(held, samples[0].Value.Uint64()-samples[1].Value.Uint64())
			select {
			case <-done:
				tick.Stop()
				most <- held
				return
			case <-tick.C:
			}
		}
	}()
	f()
	close(done)
	return float64(<-most) / (1 << 20)
}

// figures are the least times of several runs, in ms.
type figures struct{ first, two, one, end float64 }

func (g *figures) note(c *course) {
	lower := func(x *float64, d time.Duration) { *x = min(*x, float64(d.Microseconds())/1000) }
	lower(&g.first, c.when[0])
	lower(&g.two, c.within(0.02))
	lower(&g.one, c.within(0.01))
	lower(&g.end, c.end)
}

func longerThan(f *Fabric, limit int) int {
	over := 0
	for _, fl := range f.Floats(DefaultRestLimit) {
		if fl.Length > limit {
			over++
		}
	}
	return over
}

// BenchmarkMakePlan plans and proves pieces in two yarns at limit 5. Of each it reports
// the times until the first complete plan was in hand, one within 2 % and one within
// 1 % of the bound known in the end, and until planner and proof were done: the least
// of all runs, in ms. The memory is measured in one run more. It prints a row of the
// README's table.
func BenchmarkMakePlan(b *testing.B) {
	for _, size := range []struct{ width, height, repeats int }{{24, 60, 12}, {96, 64, 1}, {240, 240, 1}, {400, 400, 1}} {
		b.Run(fmt.Sprintf("%dx%dx%d", size.width, size.height, size.repeats), func(b *testing.B) {
			f := panel(b, size.width, size.height, size.repeats)
			g := figures{math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)}
			var last *course
			for b.Loop() {
				last = followed(b, f)
				g.note(last)
			}
			score, bound := int(last.s.md.total(last.s.sets)/unit), last.s.bound
			catches := len(last.s.md.catches(last.s.sets))
			last = nil
			held := mostHeld(func() { followed(b, f) })
			gap := 100 * float64(score-bound) / float64(bound)
			for name, x := range map[string]float64{
				"first-ms": g.first, "2%-ms": g.two, "1%-ms": g.one, "end-ms": g.end, "held-MiB": held, "gap%": gap,
				"floats": float64(longerThan(f, panelTask.Limit)), "catches": float64(catches), "score": float64(score), "bound": float64(bound),
			} {
				b.ReportMetric(x, name)
			}
			word := "proven"
			if score > bound {
				word = fmt.Sprintf("%.3f %%", gap)
			}
			b.Logf("| %d x %d, %d | %d | %d | %d | %d | %s | %.0f | %.0f | %.0f | %.0f | %.0f |", size.width, size.height, size.repeats,
				longerThan(f, panelTask.Limit), catches, score, bound, word, g.first, g.two, g.one, g.end, held)
		})
	}
}

// BenchmarkSlope plans squares of growing size and reports the exponent of the time
// in stitches, 1 for linear, by least squares of the logarithms; of each size the least
// of three runs counts.
func BenchmarkSlope(b *testing.B) {
	sizes := []int{64, 96, 128, 192, 256, 384}
	fabrics := make([]*Fabric, len(sizes))
	for i, n := range sizes {
		fabrics[i] = panel(b, n, n, 1)
	}
	slope := 0.0
	for b.Loop() {
		var x, y, xx, xy float64
		for i, n := range sizes {
			least := time.Duration(math.MaxInt64)
			for range 3 {
				least = min(least, followed(b, fabrics[i]).end)
			}
			b.Logf("%d x %d: %.2f us a stitch", n, n, float64(least.Nanoseconds())/1000/float64(n*n))
			lx, ly := math.Log(float64(n*n)), math.Log(least.Seconds())
			x, y, xx, xy = x+lx, y+ly, xx+lx*lx, xy+lx*ly
		}
		k := float64(len(sizes))
		slope = (k*xy - x*y) / (k*xx - x*x)
	}
	b.ReportMetric(slope, "exponent")
}

// BenchmarkAdjust chooses the next row anew in 24 columns and 12 repeats, over
// catches made one stitch late.
func BenchmarkAdjust(b *testing.B) {
	f := panel(b, 24, 60, 12)
	p, err := MakePlan(context.Background(), f, Task{Limit: 5, RestLimit: DefaultRestLimit})
	require.NoError(b, err)
	byRow := make([][]Catch, len(f.Rows))
	for _, c := range p.Catches {
		byRow[c.Row] = append(byRow[c.Row], c)
	}
	d := Deviation{Task: Task{Limit: 5, RestLimit: DefaultRestLimit}, Plan: func(row int) []Catch { return byRow[row] }}
	row := 0
	for b.Loop() {
		row = row%(len(f.Rows)-1) + 1
		d.Row, d.Below = row, nil
		for _, c := range byRow[row-1] {
			c.Stitch = min(c.Stitch+1, f.Rows[row-1].Stitches())
			d.Below = append(d.Below, c)
		}
		f.Adjust(d)
	}
}
