package floats

import (
	"context"
	"encoding/json"
	"math/rand/v2"
	"os"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// ofCores runs f on a number of cores.
func ofCores(n int, f func()) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(n))
	f()
}

// planBytes plans a piece and writes the plan down.
func planBytes(t *testing.T, f *Fabric, task Task) []byte {
	t.Helper()
	p, err := MakePlan(context.Background(), f, task)
	require.NoError(t, err)
	b, err := json.Marshal(p)
	require.NoError(t, err)
	return b
}

// exampleFabric lays one of the example charts out, twice upward.
func exampleFabric(t *testing.T, name string, repeats int, w Work) *Fabric {
	t.Helper()
	return exampleFabricOf(t, name, repeats, 2, w)
}

// exampleFabricOnce lays one out in the round, once upward.
func exampleFabricOnce(t *testing.T, name string, repeats int) *Fabric {
	t.Helper()
	return exampleFabricOf(t, name, repeats, 1, Work{})
}

func exampleFabricOf(t *testing.T, name string, repeats, times int, w Work) *Fabric {
	t.Helper()
	text, err := os.ReadFile("../examples/" + name)
	require.NoError(t, err)
	c, err := chart.Parse(name, text)
	require.NoError(t, err)
	f, err := Lay([]Part{{Name: name, Chart: c, Repeats: repeats, Times: times}}, w)
	require.NoError(t, err)
	return f
}

// smallFabric lays a chart of the surveys' kind in three yarns, twice round.
func smallFabric(t *testing.T, width, height int) *Fabric {
	t.Helper()
	c := generatedSize(rand.New(rand.NewPCG(7, uint64(width))), width, height, 3)
	f, err := Lay([]Part{{Name: "generated", Chart: c, Repeats: 2, Times: 1}}, Work{})
	require.NoError(t, err)
	return f
}

// TestSamePlanOnOneAndTwoCores plans the same pieces again and again, on one core and
// on two: whatever depends on the order of a map or on who is first shows in the bytes.
func TestSamePlanOnOneAndTwoCores(t *testing.T) {
	task := Task{Limit: 4, RestLimit: DefaultRestLimit, Effort: 400}
	for _, c := range []struct {
		name   string
		fabric *Fabric
		method Method
		limit  int
	}{
		{"two yarns in the round", exampleFabric(t, "lantern-band.chart", 6, Work{}), Weave, 5},
		{"two yarns, twists", exampleFabric(t, "lantern-band.chart", 6, Work{}), Twist, 3},
		{"over the start", exampleFabric(t, "mooring-mitten.chart", 1, Work{}), Weave, 4},
		{"shaped rows", exampleFabric(t, "tide-yoke.chart", 8, Work{}), Weave, 4},
		{"flat", exampleFabric(t, "pier-panel.chart", 1, Work{Flat: true}), Weave, 4},
		{"flat, mirrored", exampleFabric(t, "night-sea.chart", 2, Work{Flat: true, Mirror: true}), Twist, 4},
		{"generated, two yarns", generatedFabric(9), Weave, 3},
		{"generated, three yarns", smallFabric(t, 24, 24), Weave, 4},
		{"generated, three yarns, twists", smallFabric(t, 20, 16), Twist, 3},
	} {
		task.Limit, task.Method = c.limit, c.method
		want := planBytes(t, c.fabric, task)
		for run := range 4 {
			cores := 1 + run%2
			ofCores(cores, func() {
				assert.Equal(t, string(want), string(planBytes(t, c.fabric, task)), "%s, run %d on %d cores", c.name, run, cores)
			})
		}
	}
}
