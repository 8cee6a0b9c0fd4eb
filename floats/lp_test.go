package floats

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// An outside solver: small random pieces written as integer programs (CPLEX LP
// format) and solved by GLPK's glpsol. A binary for each allowed set of each float,
// and for two floats that meet a variable for each pair of their sets.
func TestAgainstIntegerProgram(t *testing.T) {
	glpsol, err := exec.LookPath("glpsol")
	if err != nil {
		t.Skip("glpsol (Debian glpk-utils) is not installed")
	}
	rng := rand.New(rand.NewPCG(2006, 28))
	const pieces = 60
	for i := 0; i < pieces; {
		s, limit, m := randomPiece(rng, i)
		f := s.fabric(t)
		if !smallEnough(f, limit, m) {
			continue
		}
		text := integerProgram(f, limit, m)
		if text == "" || len(text) > mostText {
			continue
		}
		p := planOf(t, f, limit, m)
		require.Equal(t, solve(t, glpsol, text), p.Score, "%d: %+v limit %d %v", i, s, limit, m)
		require.True(t, p.Proven, "%d: %+v limit %d %v", i, s, limit, m)
		i++
	}
}

// mostText keeps the programs to what glpsol solves in a second or two.
const mostText = 60_000

// smallEnough keeps to pieces whose sets are few enough to list.
func smallEnough(f *Fabric, limit int, m Method) bool {
	sets := 0
	for _, g := range naiveGroups(f, limit, DefaultRestLimit) {
		if g[0].Length > 24 {
			return false
		}
		sets += len(naiveSets(g[0].Length, limit, m))
	}
	return sets <= 120
}

// randomPiece goes through round and flat, 1 to 4 repeats, 2 and 3 yarns, limits 1
// to 8, weave and twist, every third with a block of a few stitches beside it.
func randomPiece(rng *rand.Rand, i int) (swatch, int, Method) {
	limit := 1 + i%8
	width := 8 + rng.IntN(4) + limit
	yarns := ".xo"[:2+i%2]
	rows := make([]string, 3+rng.IntN(3))
	for r := range rows {
		var row []byte
		for len(row) < width {
			y := yarns[rng.IntN(len(yarns))]
			for n := 1 + rng.IntN(limit+6); n > 0 && len(row) < width; n-- {
				row = append(row, y)
			}
		}
		rows[r] = string(row)
	}
	s := swatch{rows: rows, repeats: 1 + i%4, flat: i%5 < 2}
	if i%3 == 2 {
		for range rows {
			s.beside = append(s.beside, strings.Repeat(yarns[rng.IntN(len(yarns)):][:1], 3))
		}
	}
	return s, limit, Method(i / 2 % 2)
}

func integerProgram(f *Fabric, limit int, m Method) string {
	groups := naiveGroups(f, limit, DefaultRestLimit)
	if len(groups) == 0 {
		return ""
	}
	var cost, rows, binaries []string
	sets := make([][][]int, len(groups))
	name := func(i, k int) string { return fmt.Sprintf("x%d_%d", i, k) }
	for i, g := range groups {
		sets[i] = naiveSets(g[0].Length, limit, m)
		var one []string
		for k, set := range sets[i] {
			alone := naiveScore(f, limit, m, groups[i:i+1], [][]int{set})
			cost, one, binaries = append(cost, fmt.Sprintf("%d %s", alone, name(i, k))), append(one, name(i, k)), append(binaries, name(i, k))
		}
		rows = append(rows, lines(one, " + ")+" = 1")
	}
	for pair, weights := range naivePairs(f, groups) {
		i, j := pair[0], pair[1]
		both := func(k, l int) string { return fmt.Sprintf("z%d_%d_%d_%d", i, k, j, l) }
		for k, a := range sets[i] {
			var all []string
			for l, b := range sets[j] {
				all = append(all, both(k, l))
				if w := weights.of(a, b); w > 0 {
					cost = append(cost, fmt.Sprintf("%d %s", w, both(k, l)))
				}
			}
			rows = append(rows, lines(all, " + ")+" - "+name(i, k)+" = 0")
		}
		for l := range sets[j] {
			var all []string
			for k := range sets[i] {
				all = append(all, both(k, l))
			}
			rows = append(rows, lines(all, " + ")+" - "+name(j, l)+" = 0")
		}
	}
	return "Minimize\n cost: " + lines(cost, " + ") + "\nSubject To\n " + strings.Join(rows, "\n ") + "\nBinary\n " + lines(binaries, " ") + "\nEnd\n"
}

// lines keeps the lines of the file short.
func lines(terms []string, between string) string {
	var b strings.Builder
	for i, term := range terms {
		if i > 0 {
			b.WriteString(between)
		}
		if i%8 == 7 {
			b.WriteString("\n ")
		}
		b.WriteString(term)
	}
	return b.String()
}

// pairWeights is what positions of two groups cost more together.
type pairWeights map[[2]int]int

func (w pairWeights) of(a, b []int) int {
	sum := 0
	for _, p := range a {
		for _, q := range b {
			sum += w[[2]int{p, q}]
		}
	}
	return sum
}

// naivePairs lists what cells of different groups cost more together, by the two
// groups, all copies added up. (A pair within one group is in its sets' own scores.)
func naivePairs(f *Fabric, groups []naiveGroup) map[[2]int]pairWeights {
	type cell struct{ group, p int }
	at := map[[2]int][]cell{} // by row and column
	for i, g := range groups {
		for _, fl := range g {
			for p, c := range naiveCells(f, fl) {
				column, _ := naiveStitch(f, c)
				at[[2]int{c.row, column}] = append(at[[2]int{c.row, column}], cell{i, p + 1})
			}
		}
	}
	weights := map[[2]int]pairWeights{}
	add := func(a, b cell, w int) {
		if a.group > b.group {
			a, b = b, a
		}
		if a.group == b.group {
			return
		}
		pair := [2]int{a.group, b.group}
		if weights[pair] == nil {
			weights[pair] = pairWeights{}
		}
		weights[pair][[2]int{a.p, b.p}] += w
	}
	for place, cells := range at {
		for i, a := range cells {
			for _, b := range cells[i+1:] {
				add(a, b, 100)
			}
			if place[0] == 0 || f.Rows[place[0]].Columns() != f.Rows[place[0]-1].Columns() {
				continue
			}
			for step, w := range map[int]int{-1: 30, 0: 100, 1: 30} {
				for _, b := range at[[2]int{place[0] - 1, place[1] + step}] {
					add(a, b, w)
				}
			}
		}
	}
	return weights
}

var objective = regexp.MustCompile(`(?m)^Objective: +\S+ = (\S+) `)

// solve runs glpsol and reads its report; the status line counts, since it ends with
// 0 on a program without a solution too.
func solve(t *testing.T, glpsol, text string) int {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "p.lp"), filepath.Join(dir, "p.sol")
	require.NoError(t, os.WriteFile(in, []byte(text), 0o600))
	log, err := exec.Command(glpsol, "--lp", in, "-o", out).CombinedOutput()
	require.NoError(t, err, string(log))
	report, err := os.ReadFile(out)
	require.NoError(t, err)
	require.Contains(t, string(report), "Status:     INTEGER OPTIMAL", string(log))
	found := objective.FindStringSubmatch(string(report))
	require.NotNil(t, found)
	value, err := strconv.ParseFloat(found[1], 64)
	require.NoError(t, err)
	return int(math.Round(value))
}
