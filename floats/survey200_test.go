//go:build survey

package floats

import (
	"context"
	"fmt"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// spent is the CPU time used so far: other programs on the machine do not count.
func spent(t *testing.T) time.Duration {
	var u syscall.Rusage
	require.NoError(t, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// The survey of generated charts whose figures the README gives. Run it by
//
//	go test -tags survey -run Survey200 -v ./floats
func TestSurvey200(t *testing.T) {
	type tally struct {
		charts, proven int
		worst, sum     float64
		time           time.Duration
	}
	tallies := map[int]*tally{2: {}, 3: {}}
	for seed := uint64(1); seed <= 200; seed++ {
		f := generatedFabric(seed)
		start := spent(t)
		p, err := MakePlan(context.Background(), f, Task{Limit: 3 + int(seed/2)%4, RestLimit: DefaultRestLimit, Method: Method(seed / 8 % 2)})
		require.NoError(t, err)
		y := tallies[len(f.Yarns)]
		y.charts++
		y.time += spent(t) - start
		if p.Proven {
			y.proven++
			continue
		}
		gap := float64(p.Score-p.Bound) / float64(p.Score)
		y.worst, y.sum = max(y.worst, gap), y.sum+gap
		t.Logf("seed %d: %d columns, %d rows, %d yarns, limit %d %v: score %d, bound %d, gap %.2f %%", seed,
			f.Rows[0].Columns(), len(f.Rows), len(f.Yarns), p.Limit, p.Method, p.Score, p.Bound, 100*gap)
	}
	for yarns, y := range tallies {
		fmt.Printf("%d yarns: %d charts, %d proven, worst gap %.2f %%, mean gap of the others %.2f %%, %v in all\n",
			yarns, y.charts, y.proven, 100*y.worst, 100*y.sum/float64(max(1, y.charts-y.proven)), y.time.Round(time.Millisecond))
		assert.LessOrEqual(t, y.worst, 0.04)
	}
	assert.Equal(t, tallies[2].charts, tallies[2].proven)
}
