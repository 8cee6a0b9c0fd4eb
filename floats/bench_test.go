package floats

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
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

// BenchmarkMakePlan plans and proves pieces in two yarns at limit 5. It reports the
// floats over the limit, the catches, score, bound and the gap between them in
// percent, and whether the plan is proven (1).
func BenchmarkMakePlan(b *testing.B) {
	for _, size := range []struct{ width, height, repeats int }{{24, 60, 12}, {96, 64, 1}, {240, 240, 1}, {400, 400, 1}} {
		b.Run(fmt.Sprintf("%dx%dx%d", size.width, size.height, size.repeats), func(b *testing.B) {
			f := panel(b, size.width, size.height, size.repeats)
			var p *Plan
			b.ReportAllocs()
			for b.Loop() {
				var err error
				p, err = MakePlan(context.Background(), f, Task{Limit: 5, RestLimit: DefaultRestLimit})
				require.NoError(b, err)
			}
			proven := 0.0
			if p.Proven {
				proven = 1
			}
			over := 0
			for _, fl := range f.Floats(DefaultRestLimit) {
				if fl.Length > p.Limit {
					over++
				}
			}
			b.ReportMetric(float64(over), "floats")
			b.ReportMetric(float64(len(p.Catches)), "catches")
			b.ReportMetric(float64(p.Score), "score")
			b.ReportMetric(float64(p.Bound), "bound")
			b.ReportMetric(100*float64(p.Score-p.Bound)/float64(p.Score), "gap%")
			b.ReportMetric(proven, "proven")
		})
	}
}

// BenchmarkSlope plans squares of growing size and reports the exponent of the time
// in stitches, 1 for linear, by least squares of the logarithms.
func BenchmarkSlope(b *testing.B) {
	sizes := []int{64, 96, 128, 192, 256}
	fabrics := make([]*Fabric, len(sizes))
	for i, n := range sizes {
		fabrics[i] = panel(b, n, n, 1)
	}
	slope := 0.0
	for b.Loop() {
		var x, y, xx, xy float64
		for i, n := range sizes {
			start := time.Now()
			_, err := MakePlan(context.Background(), fabrics[i], Task{Limit: 5, RestLimit: DefaultRestLimit})
			require.NoError(b, err)
			lx, ly := math.Log(float64(n*n)), math.Log(time.Since(start).Seconds())
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

// FuzzGauge feeds the gauge reader anything: an error or a gauge that reads back
// as itself and gives a limit of at least 1.
func FuzzGauge(fz *testing.F) {
	for _, s := range []string{"22x24/10cm", "20/4in", "23x25/9.5x10cm", "", "0/1in", "1e9/1cm", "22x/10cm"} {
		fz.Add(s)
	}
	fz.Fuzz(func(t *testing.T, text string) {
		g, err := ParseGauge(text)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		again, err := ParseGauge(g.String())
		require.NoError(t, err)
		require.InDelta(t, g.StitchesPer10cm(), again.StitchesPer10cm(), 1e-9)
		for _, it := range Items {
			require.GreaterOrEqual(t, g.Limit(it), 1)
		}
	})
}

// FuzzLimit feeds the limit reader anything: an error or at least one stitch.
func FuzzLimit(fz *testing.F) {
	for _, s := range []string{"5", "2cm", "3/4in", "15mm", "0", "-1", "1/0in", "9999999999"} {
		fz.Add(s, true)
		fz.Add(s, false)
	}
	gauge, err := ParseGauge("22x24/10cm")
	require.NoError(fz, err)
	fz.Fuzz(func(t *testing.T, text string, with bool) {
		g := Gauge{}
		if with {
			g = gauge
		}
		n, err := ParseLimit(text, g)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.Positive(t, n)
		require.LessOrEqual(t, n, maxLimit)
	})
}
