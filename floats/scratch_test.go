package floats

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"strandwise/chart"
)

func randomChart(seed uint64, w, h, yarns int) *chart.Chart {
	rng := rand.New(rand.NewPCG(seed, 7))
	c := &chart.Chart{Title: "random"}
	syms := []rune(".xo*")
	cols := []chart.Color{{240, 230, 210}, {31, 78, 121}, {180, 40, 30}, {60, 110, 50}}
	for i := range yarns {
		c.Yarns = append(c.Yarns, chart.Yarn{Symbol: syms[i], Name: fmt.Sprint("yarn", string(rune('a'+i))), Color: cols[i]})
	}
	for range h {
		row := []rune{}
		y := rng.IntN(yarns)
		for len(row) < w {
			n := 1 + rng.IntN(12)
			for ; n > 0 && len(row) < w; n-- {
				row = append(row, syms[y])
			}
			y = (y + 1 + rng.IntN(max(1, yarns-1))) % yarns
		}
		c.Rows = append(c.Rows, row)
	}
	return c
}

func TestScratch(t *testing.T) {
	for _, d := range []struct{ w, h, r, y, l int }{{24, 16, 1, 2, 5}, {24, 60, 12, 2, 5}, {24, 60, 12, 3, 5}, {60, 120, 1, 2, 5}, {60, 120, 1, 3, 5}, {96, 64, 1, 2, 5}, {240, 240, 1, 2, 5}, {400, 400, 1, 2, 5}, {96, 64, 1, 2, 1}, {96, 64, 1, 2, 2}} {
		f, err := Lay([]Part{{Name: "c", Chart: randomChart(1, d.w, d.h, d.y), Repeats: d.r, Times: 1}}, Work{})
		if err != nil {
			t.Fatal(err)
		}
		t0 := time.Now()
		p, err := MakePlan(context.Background(), f, Task{Limit: d.l, RestLimit: 6})
		fmt.Println(d, time.Since(t0), p.Score, p.Bound, p.Proven, err, fmt.Sprintf("%.2f%%", 100*float64(p.Score-p.Bound)/float64(p.Score)))
	}
}
