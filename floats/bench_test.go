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

// planned makes a plan and says how long that took.
func planned(tb testing.TB, f *Fabric) (*Plan, time.Duration) {
	tb.Helper()
	start := time.Now()
	p, err := MakePlan(context.Background(), f, panelTask)
	require.NoError(tb, err)
	return p, time.Since(start)
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

// BenchmarkMakePlan plans and proves pieces in two yarns at limit 5. Of each it prints the row of
// the README's table: the time is the least of all runs, and the memory is measured in one run more.
func BenchmarkMakePlan(b *testing.B) {
	for _, size := range []struct{ width, height, repeats int }{{24, 60, 12}, {96, 64, 1}, {240, 240, 1}, {400, 400, 1}} {
		b.Run(fmt.Sprintf("%dx%dx%d", size.width, size.height, size.repeats), func(b *testing.B) {
			f := panel(b, size.width, size.height, size.repeats)
			least, p := time.Duration(math.MaxInt64), &Plan{}
			for b.Loop() {
				var took time.Duration
				p, took = planned(b, f)
				least = min(least, took)
			}
			held := mostHeld(func() { planned(b, f) })
			word := "proven"
			if !p.Proven {
				word = fmt.Sprintf("within %.3f %%", 100*float64(p.Score-p.Bound)/float64(p.Bound))
			}
			b.Logf("| %d x %d, %d | %d | %s | %.2f s | %.0f MiB |", size.width, size.height, size.repeats,
				len(p.Catches), word, least.Seconds(), held)
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
				_, took := planned(b, fabrics[i])
				least = min(least, took)
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
