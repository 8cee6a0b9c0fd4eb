package floats

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"strandwise/chart"
)

// Part is one part of a piece, worked before the parts that follow it: a chart repeated round
// and upward with others beside it, or plain rows of one yarn. Of a part the blocks are the part
// itself and what stands beside it, in the order in which a right-side row works them.
type Part struct {
	Name    string       // what the row sheet calls it
	Chart   *chart.Chart // nil for plain rows and a steek
	Repeats int          // copies side by side, at least 1
	Times   int          // copies upward, at least 1
	Plain   rune         // symbol of the yarn of plain rows
	Rows    int          // how many plain rows
	Adds    int          // stitches the last of the plain rows adds; it takes some where this is less than 0
	Steek   int          // stitches of a steek, which has no chart; 0 for none
	Beside  []Part       // the blocks after the first
}

func (p *Part) isPlain() bool { return p.Chart == nil && p.Steek == 0 }

func (p *Part) blocks() []*Part {
	all := []*Part{p}
	for i := range p.Beside {
		all = append(all, &p.Beside[i])
	}
	return all
}

func (p *Part) charted() []*Part {
	return slices.DeleteFunc(p.blocks(), func(b *Part) bool { return b.Chart == nil })
}

// Work is how the knitter works the piece as far as the lie of the floats goes.
type Work struct {
	Flat   bool // worked back and forth; otherwise in the round
	Mirror bool // works from the right needle to the left: every row is read the other way
}

// ClashError tells that two parts use one symbol for different yarns.
type ClashError struct {
	Symbol      rune
	First, Then chart.Yarn
	FirstPart   string
	ThenPart    string
}

func (e *ClashError) Error() string {
	return fmt.Sprintf("yarn %c is %s %s in %s but %s %s in %s", e.Symbol,
		e.First.Name, e.First.Color, e.FirstPart, e.Then.Name, e.Then.Color, e.ThenPart)
}

// ErrNoChart tells that a piece has no chart, so its plain rows have no width.
var ErrNoChart = errors.New("a piece needs at least one chart")

// LayError tells that parts cannot be laid out as they are given, and what would do.
type LayError struct{ What, Try string }

func (e *LayError) Error() string { return e.What }

func (p *Part) check(w Work) error {
	all, charted := p.blocks(), p.charted()
	if p.isPlain() && len(all) == 1 {
		return nil
	}
	for i, b := range all {
		switch {
		case b.isPlain():
			return &LayError{fmt.Sprintf("%s are plain rows, which have no width of their own, so nothing stands beside them", b.Name), "a chart of that yarn"}
		case b.Chart != nil && b.Chart.Height()*b.Times != charted[0].Chart.Height()*charted[0].Times:
			return &LayError{
				fmt.Sprintf("%s has %s and beside it %s %s", charted[0].Name, rowsOf(charted[0]), b.Name, rowsOf(b)),
				upward(charted[0].Chart.Height(), b.Chart.Height()),
			}
		case b.Steek > 0 && w.Flat:
			return &LayError{"a steek is for work in the round: flat work has its edges already", "leave the steek out, or work in the round"}
		case b.Steek > 0 && i != 0 && i != len(all)-1:
			return &LayError{"the round begins within the steek, so it stands first or last of the blocks", "FILE + FILE + steek:5"}
		}
	}
	switch steeks := len(all) - len(charted); {
	case len(charted) == 0:
		return &LayError{"a steek needs a chart beside it, whose yarns it is worked in", "FILE@8 + steek:5"}
	case steeks > 1:
		return &LayError{"one part has two steeks; the round begins within one", "one of them"}
	}
	return nil
}

// upward says how often two charts are worked upward to have the same number of rows.
func upward(first, beside int) string {
	g := gcd(first, beside)
	return fmt.Sprintf("how often a chart is worked upward stands behind an x: here x%d and x%d, or a multiple of both", beside/g, first/g)
}

func rowsOf(p *Part) string {
	if n := p.Chart.Height(); p.Times > 1 {
		return fmt.Sprintf("%d times %d rows", p.Times, n)
	}
	return fmt.Sprintf("%d rows", p.Chart.Height())
}

// Lay lays the parts out in knitting order. In the round every row is worked from column 1
// leftward; flat, odd rows are right-side rows worked the same way and even rows wrong-side rows
// worked back. A mirror knitter works every row the other way, so that the first block still comes
// first in a right-side row. Plain rows are as wide as the stitches the row below leaves, those at
// the start as the first chart row uses up.
//
// Errors are *ClashError, *LayError, *TooLargeError and ErrNoChart.
func Lay(parts []Part, w Work) (*Fabric, error) {
	f := &Fabric{Flat: w.Flat}
	for p := range parts {
		if err := parts[p].check(w); err != nil {
			return nil, err
		}
	}
	if err := checkSize(parts); err != nil {
		return nil, err
	}
	index, err := f.gatherYarns(parts)
	if err != nil {
		return nil, err
	}
	width, err := startWidth(parts)
	if err != nil {
		return nil, err
	}
	l := &laying{f: f, work: w, known: map[string]*Course{}}
	for p := range parts {
		part := &parts[p]
		if part.isPlain() {
			if width <= 0 {
				return nil, &LayError{
					fmt.Sprintf("part %s would have rows of no stitches: the chart beside it leaves or uses up none", part.Name),
					"begin with a chart row of knitted stitches, or leave the plain rows out",
				}
			}
			if err := l.plainRows(p, part, width); err != nil {
				return nil, err
			}
			width += part.Adds
			continue
		}
		l.blocks(p, part, index)
		width = f.Rows[len(f.Rows)-1].Makes()
	}
	return f, nil
}

type laying struct {
	f     *Fabric
	work  Work
	known map[string]*Course // by what the row is made of and the way it is worked
}

type side struct {
	cells   []chart.Cell
	repeats int
}

// row lays a row of blocks, in the order in which a right-side row works them, above the others
// and settles which way it is worked. Rows of one key have the same blocks.
func (l *laying) row(part int, key string, at Row, blocks func() []side) {
	c := Course{Part: part, WrongSide: l.work.Flat && len(l.f.Rows)%2 == 1}
	c.FromLeft = c.WrongSide != l.work.Mirror
	key = fmt.Sprint(part, " ", key, c.FromLeft)
	if l.known[key] == nil {
		sides := blocks()
		for i, s := range sides {
			c.Blocks = append(c.Blocks, Block{Number: i + 1, Columns: len(s.cells), Repeats: s.repeats})
		}
		if l.work.Mirror {
			slices.Reverse(sides)
		}
		for _, s := range sides {
			c.Cells = append(c.Cells, s.cells...)
		}
		if c.WrongSide {
			slices.Reverse(c.Blocks)
		}
		l.known[key] = c.inOrder()
	}
	at.Course = l.known[key]
	l.f.Rows = append(l.f.Rows, at)
}

func (l *laying) blocks(p int, part *Part, index map[*chart.Chart][]int) {
	charted := part.charted()
	rows := make([][][]chart.Cell, len(charted))
	for i, b := range charted {
		rows[i] = chartRows(b.Chart, index[b.Chart])
	}
	// The widest block names the row, of two alike the first.
	widest := slices.MaxFunc(charted, func(a, b *Part) int { return a.Chart.Width()*a.Repeats - b.Chart.Width()*b.Repeats })
	n := widest.Chart.Height()
	for i := range widest.Times * n {
		key, sides := "", []side(nil)
		for k, b := range charted {
			at := i % len(rows[k])
			key += fmt.Sprint(at, " ")
			sides = append(sides, side{rows[k][at], b.Repeats})
		}
		l.row(p, key, Row{Copy: i/n + 1, ChartRow: i%n + 1}, func() []side { return withSteek(part, sides) })
	}
}

// withSteek puts a steek around the other blocks of a row. It is worked in stripes one stitch
// wide of the two yarns worked most in the row. The round begins after its first half, the larger
// where the number is odd, so that the row begins with the second.
func withSteek(part *Part, sides []side) []side {
	blocks := part.blocks()
	n := max(blocks[0].Steek, blocks[len(blocks)-1].Steek)
	if n == 0 {
		return sides
	}
	yarns, cells := mostWorked(sides), make([]chart.Cell, n)
	for i := range cells {
		cells[i].Yarn = yarns[i%len(yarns)]
	}
	half := (n + 1) / 2
	return slices.Concat([]side{{cells[half:], 1}}, sides, []side{{cells[:half], 1}})
}

// mostWorked is the two yarns with most stitches, or the one there is, by index.
func mostWorked(sides []side) []int {
	count := map[int]int{}
	for _, s := range sides {
		for _, c := range s.cells {
			if !c.IsEmpty() {
				count[c.Yarn] += s.repeats
			}
		}
	}
	yarns := slices.Sorted(maps.Keys(count))
	slices.SortStableFunc(yarns, func(a, b int) int { return count[b] - count[a] })
	yarns = yarns[:min(2, len(yarns))]
	slices.Sort(yarns)
	return yarns
}

// plainRows lays plain rows over a row that leaves so many stitches.
func (l *laying) plainRows(p int, part *Part, width int) error {
	yarn := l.f.Yarn(part.Plain)
	shaped, err := spread(yarn, part, width, l.work.Flat)
	if err != nil {
		return err
	}
	for i := range part.Rows {
		at := Row{Copy: 1, ChartRow: i + 1}
		if i == part.Rows-1 && part.Adds != 0 {
			l.row(p, "shaped", at, func() []side { return shaped })
			continue
		}
		l.row(p, "plain", at, func() []side { return []side{{knitted(yarn, width), 1}} })
	}
	return nil
}

func knitted(yarn, n int) []chart.Cell {
	return slices.Repeat([]chart.Cell{{Yarn: yarn, Technique: chart.Knit}}, n)
}

// match is the index of the yarn with a yarn's symbol, which becomes the last if there is none.
func (f *Fabric) match(y chart.Yarn) int {
	at := f.Yarn(y.Symbol)
	if at == chart.NoYarn {
		at, f.Yarns = len(f.Yarns), append(f.Yarns, y)
	}
	return at
}

// gatherYarns fills f.Yarns and returns the index of each yarn of each chart.
func (f *Fabric) gatherYarns(parts []Part) (map[*chart.Chart][]int, error) {
	index, from := map[*chart.Chart][]int{}, []string{}
	for p := range parts {
		for _, b := range parts[p].charted() {
			if index[b.Chart] != nil {
				continue
			}
			for _, y := range b.Chart.Yarns {
				at := f.match(y)
				if at == len(from) {
					from = append(from, b.Name)
				}
				if f.Yarns[at] != y {
					return nil, &ClashError{y.Symbol, f.Yarns[at], y, from[at], b.Name}
				}
				index[b.Chart] = append(index[b.Chart], at)
			}
		}
	}
	for p := range parts {
		if y := parts[p].Plain; parts[p].isPlain() && f.Yarn(y) == chart.NoYarn {
			return nil, &LayError{
				fmt.Sprintf("plain rows name yarn %c, which no chart of the piece declares", y),
				fmt.Sprintf("name a yarn of the charts, or add the line `yarn: %c NAME #RRGGBB` to one of them", y),
			}
		}
	}
	return index, nil
}

// startWidth is the number of stitches cast on, as far as plain rows at the start need to know
// it: what the first chart row uses up, less what plain rows below it add.
func startWidth(parts []Part) (int, error) {
	at := slices.IndexFunc(parts, func(p Part) bool { return !p.isPlain() })
	if at < 0 {
		return 0, ErrNoChart
	}
	used := 0
	for _, p := range parts[:at] {
		used -= p.Adds
	}
	for _, b := range parts[at].blocks() {
		used += b.Steek
		if b.Chart == nil {
			continue
		}
		for _, c := range b.Chart.Cells(1) {
			if !c.IsEmpty() {
				used += c.Technique.Uses() * b.Repeats
			}
		}
	}
	return used, nil
}

func chartRows(c *chart.Chart, index []int) [][]chart.Cell {
	rows := make([][]chart.Cell, c.Height())
	for i := range rows {
		rows[i] = c.Cells(i + 1)
		for j, cell := range rows[i] {
			if !cell.IsEmpty() {
				rows[i][j].Yarn = index[cell.Yarn]
			}
		}
	}
	return rows
}
