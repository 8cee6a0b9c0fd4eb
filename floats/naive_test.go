package floats

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// The twin: the rules of a plan once more, told straight from their wording, with
// no thought of speed and no code of the planner. It tries everything.

// naiveWeights are the points of the score, by what costs them.
var naiveWeights = map[string]int{
	"each catch":                                  100,
	"each gap of g stitches, limit L":             40,
	"show-through, by color difference":           8,
	"a catch right above another":                 100,
	"a catch diagonally above another":            30,
	"two yarns caught at one stitch":              100,
	"weave just before a change of yarn":          25,
	"a catch on a shaped stitch":                  60,
	"a catch on a stitch worked against its side": 300,
}

// swatch is a small piece for tests.
type swatch struct {
	rows    []string // as in a chart file: the last is row 1, read right to left
	repeats int
	times   int
	flat    bool
	mirror  bool
	beside  []string // of a block beside it, which stands once
}

func (s swatch) fabric(t require.TestingT) *Fabric {
	yarns := "yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\n"
	if strings.ContainsRune(strings.Join(append(s.rows, s.beside...), ""), 'o') {
		yarns += "yarn: o ember #B5402A\n"
	}
	for _, stitch := range []string{"- . purl", "/ . k2tog"} {
		if strings.Contains(strings.Join(s.rows, ""), stitch[:1]) {
			yarns += "stitch: " + stitch + "\n"
		}
	}
	charted := func(rows []string, repeats int) Part {
		c, err := chart.Parse("swatch", []byte(yarns+"background: .\nrows:\n"+strings.Join(rows, "\n")+"\n"))
		require.NoError(t, err)
		return Part{Name: "swatch", Chart: c, Repeats: max(1, repeats), Times: max(1, s.times)}
	}
	part := charted(s.rows, s.repeats)
	if s.beside != nil {
		part.Beside = []Part{charted(s.beside, 1)}
	}
	f, err := Lay([]Part{part}, Work{Flat: s.flat, Mirror: s.mirror})
	require.NoError(t, err)
	return f
}

// naiveCell is one stitch of a float.
type naiveCell struct{ row, stitch int } // stitch from 0

func naiveCells(f *Fabric, fl Float) []naiveCell {
	var cells []naiveCell
	row, stitch := fl.Row, fl.Stitch-1
	for range fl.Length {
		if stitch == f.Rows[row].Stitches() {
			row, stitch = row+1, 0
		}
		cells = append(cells, naiveCell{row, stitch})
		stitch++
	}
	return cells
}

func naiveStitch(f *Fabric, c naiveCell) (column int, cell chart.Cell) {
	cells := naiveRow(&f.Rows[c.row])
	var columns []int
	for i := range cells {
		if f.Rows[c.row].FromLeft {
			i = len(cells) - 1 - i
		}
		if !cells[i].IsEmpty() {
			columns = append(columns, i)
		}
	}
	column = columns[c.stitch]
	return column, cells[column]
}

// naiveRow writes a row out in order of its columns, once.
func naiveRow(r *Row) []chart.Cell {
	if known, is := naiveRows.Load(r.Course); is {
		return known.([]chart.Cell)
	}
	blocks, pattern := slices.Clone(r.Blocks), r.Cells
	if r.FromLeft {
		slices.Reverse(blocks)
	}
	var cells []chart.Cell
	for _, b := range blocks {
		cells = append(cells, slices.Repeat(pattern[:b.Columns], b.Repeats)...)
		pattern = pattern[b.Columns:]
	}
	naiveRows.Store(r.Course, cells)
	return cells
}

var naiveRows sync.Map // by *Course

// naiveGaps reports whether the positions (from 1) are an allowed set, but for the number of
// catches and the rule of the first stitch.
func naiveGaps(n, limit int, m Method, set []int) bool {
	if len(set) == 0 {
		return n <= limit
	}
	for i, p := range set {
		if m == Weave && i > 0 && p == set[i-1]+1 || m == Weave && p == n || m == Twist && p == 1 {
			return false
		}
	}
	for _, g := range naiveGapList(n, m, set) {
		if g > limit {
			return false
		}
	}
	return true
}

func naiveGapList(n int, m Method, set []int) []int {
	own := 1 // a weave's stitch is in neither gap
	if m == Twist {
		own = 0
	}
	gaps := []int{set[0] - 1}
	for i := 1; i < len(set); i++ {
		gaps = append(gaps, set[i]-set[i-1]-own)
	}
	return append(gaps, n-set[len(set)-1]+1-own)
}

// naiveCount is the fewest catches that can do on a float over the limit.
func naiveCount(n, limit int, m Method) int {
	if m == Twist {
		return int(math.Ceil(float64(n)/float64(limit))) - 1
	}
	return int(math.Ceil(float64(n-limit) / float64(limit+1)))
}

// naiveAllowed reports whether the positions are an allowed set of a float over the limit. All
// sets are listed only where the first stitch is woven, which is allowed where all others are so.
func naiveAllowed(n, limit int, m Method, set []int) bool {
	if m == Weave && len(set) > 0 && set[0] == 1 {
		return slices.ContainsFunc(naiveSets(n, limit, m), func(s []int) bool { return slices.Equal(s, set) })
	}
	more := len(set) - naiveCount(n, limit, m)
	return naiveGaps(n, limit, m, set) && (more == 0 || more == 1)
}

// naiveSets lists every allowed set of one float over the limit: all ways of placing
// one catch after another with no gap longer than the limit, sifted by the rules.
func naiveSets(n, limit int, m Method) [][]int {
	k := naiveCount(n, limit, m)
	var without, with [][]int
	var place func(set []int)
	place = func(set []int) {
		if len(set) >= k && naiveGaps(n, limit, m, set) {
			if m == Weave && set[0] == 1 {
				with = append(with, slices.Clone(set))
			} else {
				without = append(without, slices.Clone(set))
			}
		}
		if len(set) > k {
			return
		}
		last := 0
		if len(set) > 0 {
			last = set[len(set)-1]
		}
		for p := last + 1; p <= min(n, last+limit+1); p++ {
			place(append(set, p))
		}
	}
	place(nil)
	if len(without) > 0 {
		return without
	}
	return with
}

// naiveGroup is floats that must be caught alike.
type naiveGroup []Float

func naiveGroups(f *Fabric, limit, rest int) []naiveGroup {
	var groups []naiveGroup
	at := map[string]int{}
	for _, fl := range f.Floats(rest) {
		if fl.Length <= limit {
			continue
		}
		key := fmt.Sprint(fl.Row, fl.Yarn, fl.Kind, fl.Stitch)
		if fl.Kind == Within {
			key = naiveTie(&f.Rows[fl.Row], fl)
		}
		if i, ok := at[key]; ok {
			groups[i] = append(groups[i], fl)
			continue
		}
		at[key] = len(groups)
		groups = append(groups, naiveGroup{fl})
	}
	return groups
}

// naiveTie tells floats of a row that are caught alike: those between the same two stitches of
// a block, both in it.
func naiveTie(r *Row, fl Float) string {
	before, at := fl.Stitch-1, 0
	for _, b := range r.Blocks {
		if from, to := at+1, at+b.Stitches*b.Repeats; before >= from && fl.Stitch+fl.Length <= to {
			return fmt.Sprint("block", b.Number, fl.Row, fl.Yarn, (before-from)%b.Stitches)
		}
		at += b.Stitches * b.Repeats
	}
	return fmt.Sprint("alone", fl.Row, fl.Yarn, fl.Stitch)
}

// naiveScore is the score of a piece with the given sets, one for each group.
func naiveScore(f *Fabric, limit int, m Method, groups []naiveGroup, sets [][]int) int {
	total := 0.0
	caught := map[naiveCell]int{} // how many yarns
	columns := map[[2]int]int{}   // by row and column
	for i, group := range groups {
		for _, fl := range group {
			cells := naiveCells(f, fl)
			for _, g := range naiveGapList(fl.Length, m, sets[i]) {
				total += math.Floor(naiveWeight("each gap of g stitches, limit L")*float64(g*g)/float64(limit*limit) + 0.5)
			}
			for _, p := range sets[i] {
				c := cells[p-1]
				total += naiveCatch(f, m, c, fl.Yarn)
				column, _ := naiveStitch(f, c)
				caught[c]++
				columns[[2]int{c.row, column}]++
			}
		}
	}
	for _, n := range caught {
		total += naiveWeight("two yarns caught at one stitch") * float64(n*(n-1)/2)
	}
	for at, n := range columns {
		row, column := at[0], at[1]
		if row == 0 || f.Rows[row].Columns() != f.Rows[row-1].Columns() {
			continue
		}
		total += naiveWeight("a catch right above another") * float64(n*columns[[2]int{row - 1, column}])
		total += naiveWeight("a catch diagonally above another") * float64(n*(columns[[2]int{row - 1, column - 1}]+columns[[2]int{row - 1, column + 1}]))
	}
	return int(total)
}

func naiveCatch(f *Fabric, m Method, c naiveCell, yarn int) float64 {
	cost := naiveWeight("each catch")
	column, cell := naiveStitch(f, c)
	below := chart.NoYarn
	if c.row > 0 && f.Rows[c.row].Columns() == f.Rows[c.row-1].Columns() {
		below = naiveRow(&f.Rows[c.row-1])[column].Yarn
	}
	if below != yarn {
		d := chart.DeltaE(f.Yarns[yarn].Color.Lab(), f.Yarns[cell.Yarn].Color.Lab())
		cost += math.Floor(naiveWeight("show-through, by color difference")*math.Min(1, d/50) + 0.5)
	}
	next := naiveCell{c.row, c.stitch + 1}
	if next.stitch == f.Rows[c.row].Stitches() {
		next = naiveCell{c.row + 1, 0}
		if f.Flat || next.row == len(f.Rows) {
			next.row = -1
		}
	}
	if m == Weave && next.row >= 0 {
		if _, after := naiveStitch(f, next); after.Yarn != cell.Yarn {
			cost += naiveWeight("weave just before a change of yarn")
		}
	}
	if cell.Technique != chart.Knit && cell.Technique != chart.Purl && cell.Technique != chart.Slip {
		cost += naiveWeight("a catch on a shaped stitch")
	}
	if cell.Technique == chart.Purl {
		cost += naiveWeight("a catch on a stitch worked against its side")
	}
	return cost
}

// naiveWeight looks a weight up and notes that the twin uses it.
func naiveWeight(what string) float64 {
	naiveUsed.Store(what, true)
	return float64(naiveWeights[what])
}

var naiveUsed sync.Map

// naiveBest tries every plan; false when there are more than most.
func naiveBest(f *Fabric, limit int, m Method, most int) (int, bool) {
	groups := naiveGroups(f, limit, DefaultRestLimit)
	choices := make([][][]int, len(groups))
	plans := 1
	for i, g := range groups {
		choices[i] = naiveSets(g[0].Length, limit, m)
		if plans *= len(choices[i]); plans > most {
			return 0, false
		}
	}
	best := math.MaxInt
	sets := make([][]int, len(groups))
	var try func(i int)
	try = func(i int) {
		if i == len(groups) {
			best = min(best, naiveScore(f, limit, m, groups, sets))
			return
		}
		for _, sets[i] = range choices[i] {
			try(i + 1)
		}
	}
	try(0)
	return best, true
}

// naiveSetsOf reads the sets back from a plan's catches and holds them to the rules:
// allowed, and alike in all copies.
func naiveSetsOf(t require.TestingT, f *Fabric, p *Plan) ([]naiveGroup, [][]int) {
	groups := naiveGroups(f, p.Limit, DefaultRestLimit)
	at := map[Catch]bool{}
	for _, c := range p.Catches {
		require.False(t, at[c], "catch twice: %v", c)
		at[c] = true
	}
	sets := make([][]int, len(groups))
	seen := 0
	for i, group := range groups {
		for copy, fl := range group {
			var set []int
			for pos, c := range naiveCells(f, fl) {
				if at[Catch{c.row, c.stitch + 1, fl.Yarn}] {
					set = append(set, pos+1)
				}
			}
			seen += len(set)
			require.True(t, len(set) > 0 && naiveGaps(fl.Length, p.Limit, p.Method, set), "float %v caught on %v", fl, set)
			if copy > 0 {
				require.Equal(t, sets[i], set, "copies of a float alike")
			}
			sets[i] = set
		}
	}
	require.Equal(t, len(p.Catches), seen, "catches outside floats over the limit")
	return groups, sets
}
