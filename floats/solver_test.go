package floats

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
)

// An outside solver: each float of a row as a graph of "so many catches, the last on
// this stitch", solved by gonum's Dijkstra, which knows nothing of windows or
// layers. In one row of two yarns no catch meets another.
func TestOneRowAgainstShortestPaths(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 34))
	for range 400 {
		width := 8 + rng.IntN(60)
		row := make([]byte, 0, width)
		for yarn := rng.IntN(2); len(row) < width; yarn = 1 - yarn {
			for n := 1 + rng.IntN(18); n > 0 && len(row) < width; n-- {
				row = append(row, ".x"[yarn])
			}
		}
		f := swatch{rows: []string{string(row)}, flat: rng.IntN(2) == 0}.fabric(t)
		limit, m := 1+rng.IntN(8), Method(rng.IntN(2))
		want := 0.0
		for _, group := range naiveGroups(f, limit, DefaultRestLimit) {
			want += dijkstra(f, group[0], limit, m)
		}
		require.Equal(t, int(want), planOf(t, f, limit, m).Score, "%s limit %d %v", row, limit, m)
	}
}

func dijkstra(f *Fabric, fl Float, limit int, m Method) float64 {
	n := fl.Length
	fewest := (n - limit + limit) / (limit + 1)
	if m == Twist {
		fewest = (n+limit-1)/limit - 1
	}
	cost := shortestWith(f, fl, limit, m, fewest, 2)
	if cost < 0 {
		cost = shortestWith(f, fl, limit, m, fewest, 1) // the first stitch, where nothing else can be
	}
	return cost
}

// shortestWith is the least cost with fewest or one more catches, the first on or
// after the given stitch; -1 when there is none.
func shortestWith(f *Fabric, fl Float, limit int, m Method, fewest, first int) float64 {
	n := fl.Length
	g := simple.NewWeightedDirectedGraph(0, -1)
	node := func(count, p int) simple.Node { return simple.Node(count*(n+2) + p) }
	start, end := simple.Node(-1), simple.Node(-2)
	gap := func(length int) float64 { return float64((80*length*length + limit*limit) / (2 * limit * limit)) }
	link := func(from, to simple.Node, w float64) {
		g.SetWeightedEdge(simple.WeightedEdge{F: from, T: to, W: w})
	}
	g.AddNode(start)
	g.AddNode(end)
	cells := naiveCells(f, fl)
	for p := first; p <= n; p++ {
		catch := naiveCatch(f, m, cells[p-1], fl.Yarn)
		if m == Weave && p == n || m == Twist && p == 1 {
			continue
		}
		if p-1 <= limit {
			link(start, node(1, p), gap(p-1)+catch)
		}
		for count := 2; count <= fewest+1; count++ {
			for q := 1; q < p; q++ {
				length := p - q
				if m == Weave {
					length--
				}
				if length <= limit && (m == Twist || length > 0) {
					link(node(count-1, q), node(count, p), gap(length)+catch)
				}
			}
		}
		rest := n - p
		if m == Twist {
			rest++
		}
		if rest <= limit {
			for count := fewest; count <= fewest+1; count++ {
				link(node(count, p), end, gap(rest))
			}
		}
	}
	tree := path.DijkstraFrom(start, g)
	if _, cost := tree.To(end.ID()); cost < 1e9 {
		return cost
	}
	return -1
}
