package floats

import (
	"cmp"
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// smallPiece draws a piece and a plan of it, quickly made: it need not be the best.
func smallPiece(t *rapid.T, flat bool) (*Fabric, *Plan) {
	s := pieceOf(t)
	s.flat, s.times, s.rows = flat, 1, s.rows[:min(len(s.rows), 3)]
	f := s.fabric(t)
	task := Task{Limit: rapid.IntRange(1, 4).Draw(t, "limit"), Method: methodOf(t), RestLimit: DefaultRestLimit, Effort: 10}
	p, err := MakePlan(context.Background(), f, task)
	require.NoError(t, err)
	return f, p
}

// deviationOf is a row to work above catches made otherwise than planned.
func deviationOf(t *rapid.T, f *Fabric, p *Plan) Deviation {
	plan := func(row int) []Catch {
		return slices.DeleteFunc(slices.Clone(p.Catches), func(c Catch) bool { return c.Row != row })
	}
	d := Deviation{Task: Task{Limit: p.Limit, Method: p.Method, RestLimit: DefaultRestLimit}, Made: p.Method, Plan: plan}
	d.Row = rapid.IntRange(0, len(f.Rows)-1).Draw(t, "row")
	if d.Row == 0 {
		return d
	}
	for _, c := range plan(d.Row - 1) {
		switch rapid.IntRange(0, 3).Draw(t, "made") {
		case 0: // missed
		case 1:
			if c.Stitch++; c.Stitch > f.Rows[c.Row].Stitches() {
				c.Stitch -= 2
			}
			d.Below = append(d.Below, c)
		default:
			d.Below = append(d.Below, c)
		}
	}
	return d
}

// adjustTwin is Adjust told from its wording: all sets of each float are tried.
type adjustTwin struct {
	f              *Fabric
	d              Deviation
	caught         map[Catch]bool // made below, and in the row and above it
	below, strange map[int]bool
}

func newAdjustTwin(f *Fabric, d Deviation) *adjustTwin {
	w := &adjustTwin{f: f, d: d, caught: map[Catch]bool{}, below: map[int]bool{}, strange: map[int]bool{}}
	for _, c := range slices.Concat(d.Below, d.Plan(d.Row), d.Plan(d.Row+1)) {
		w.caught[c] = true
	}
	if d.Row > 0 && f.Rows[d.Row].Columns() == f.Rows[d.Row-1].Columns() {
		for _, c := range d.Below {
			w.below[columnOf(f, c)] = true
			w.strange[columnOf(f, c)] = w.strange[columnOf(f, c)] || !slices.Contains(d.Plan(d.Row-1), c)
		}
	}
	return w
}

func (w *adjustTwin) catchesOf(fl Float, set []int) []Catch {
	var all []Catch
	cells := naiveCells(w.f, fl)
	for _, p := range set {
		all = append(all, Catch{cells[p-1].row, cells[p-1].stitch + 1, fl.Yarn})
	}
	return all
}

func (w *adjustTwin) setOf(fl Float) []int {
	var set []int
	for i, c := range naiveCells(w.f, fl) {
		at := Catch{c.row, c.stitch + 1, fl.Yarn}
		if w.caught[at] {
			set = append(set, i+1)
		}
	}
	return set
}

// beside is the price of two catches at one stitch or in adjacent rows.
func (w *adjustTwin) beside(a, b Catch) float64 {
	switch rows := a.Row - b.Row; {
	case rows == 0 && a.Stitch == b.Stitch && a.Yarn != b.Yarn:
		return 100
	case rows != 1 && rows != -1 || w.f.Rows[a.Row].Columns() != w.f.Rows[b.Row].Columns():
		return 0
	}
	switch columnOf(w.f, a) - columnOf(w.f, b) {
	case 0:
		return 100
	case -1, 1:
		return 30
	}
	return 0
}

func (w *adjustTwin) strikes(group []Float, columns map[int]bool) bool {
	return slices.ContainsFunc(group, func(fl Float) bool {
		return slices.ContainsFunc(w.catchesOf(fl, w.setOf(fl)), func(c Catch) bool { return c.Row == w.d.Row && columns[columnOf(w.f, c)] })
	})
}

func (w *adjustTwin) cost(group []Float, set []int) int {
	total := 0.0
	for _, fl := range group {
		for _, g := range naiveGapList(fl.Length, w.d.Method, set) {
			total += float64((80*g*g + w.d.Limit*w.d.Limit) / (2 * w.d.Limit * w.d.Limit))
		}
		for _, c := range w.catchesOf(fl, set) {
			total += naiveCatch(w.f, w.d.Method, naiveCell{c.Row, c.Stitch - 1}, fl.Yarn)
			for other := range w.caught {
				total += w.beside(c, other)
			}
			for _, other := range w.catchesOf(fl, set) {
				if other.Row > c.Row {
					total += w.beside(c, other)
				}
			}
		}
	}
	return int(total)
}

func (w *adjustTwin) choose(group []Float) {
	old := w.setOf(group[0])
	alike := true
	for _, fl := range group {
		alike = alike && slices.Equal(w.setOf(fl), old)
	}
	if !alike {
		panic("a plan with repeats not alike")
	}
	for _, fl := range group {
		for _, c := range w.catchesOf(fl, old) {
			delete(w.caught, c)
		}
	}
	best := slices.MinFunc(naiveSets(group[0].Length, w.d.Limit, w.d.Method), func(a, b []int) int {
		return cmp.Or(cmp.Compare(w.cost(group, a), w.cost(group, b)), cmp.Compare(len(a), len(b)), slices.Compare(a, b))
	})
	if w.cost(group, old) <= w.cost(group, best) {
		best = old
	}
	for _, fl := range group {
		for _, c := range w.catchesOf(fl, best) {
			w.caught[c] = true
		}
	}
}

func (w *adjustTwin) adjust() []Catch {
	var alone []Float
	for _, group := range naiveGroups(w.f, w.d.Limit, DefaultRestLimit) {
		if group[0].Row != w.d.Row || !w.strikes(group, w.strange) {
			continue
		}
		if w.choose(group); len(group) > 1 {
			alone = append(alone, group...)
		}
	}
	slices.SortFunc(alone, func(a, b Float) int { return cmp.Or(a.Stitch-b.Stitch, a.Yarn-b.Yarn) })
	for _, fl := range alone {
		if w.strikes([]Float{fl}, w.below) {
			w.choose([]Float{fl})
		}
	}
	var all []Catch
	for c := range w.caught {
		if c.Row == w.d.Row {
			all = append(all, c)
		}
	}
	sortCatches(all)
	return all
}

func longest(f *Fabric) int {
	n := 0
	for _, fl := range f.Floats(DefaultRestLimit) {
		n = max(n, fl.Length)
	}
	return n
}

// Every float of the row is compared, but where one over the start comes from below: what
// is left of that is chosen by other rules.
func TestAdjustAgainstAllSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, p := smallPiece(t, rapid.Bool().Draw(t, "flat"))
		if longest(f) > 16 {
			return // too many sets to try them all
		}
		d := deviationOf(t, f, p)
		for _, fl := range f.Floats(DefaultRestLimit) {
			if fl.Kind == OverStart && fl.Row == d.Row-1 && fl.Length > p.Limit {
				return
			}
		}
		require.Equal(t, newAdjustTwin(f, d).adjust(), f.Adjust(d))
	})
}

func TestNoDeviationNoChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, p := smallPiece(t, rapid.Bool().Draw(t, "flat"))
		d := deviationOf(t, f, p)
		if d.Row > 0 {
			d.Below = d.Plan(d.Row - 1)
		}
		require.ElementsMatch(t, d.Plan(d.Row), f.Adjust(d))
	})
}

// excess is how far the gaps of a float go over the limit, from the last catch made
// below on.
func excess(fl Float, limit int, m Method, made, set []int) int {
	total := 0
	all := slices.Concat(made, set)
	if len(all) == 0 {
		return max(0, fl.Length-limit)
	}
	for i, g := range naiveGapList(fl.Length, m, all) {
		if i >= len(made) {
			total += max(0, g-limit)
		}
	}
	return total
}

// TestOverStartClosedAsWellAsCanBe tries every set of catches above what was made of
// a float over the start: none leaves less over the limit.
func TestOverStartClosedAsWellAsCanBe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, p := smallPiece(t, false)
		limit, m, d := p.Limit, p.Method, deviationOf(t, f, p)
		adjusted := f.Adjust(d)
		for _, fl := range f.Floats(DefaultRestLimit) {
			if fl.Kind != OverStart || fl.Row != d.Row-1 || fl.Length <= limit {
				continue
			}
			var made, set, open []int
			for i, c := range naiveCells(f, fl) {
				at := Catch{c.row, c.stitch + 1, fl.Yarn}
				if slices.Contains(d.Below, at) {
					made = append(made, i+1)
				}
				if c.row == d.Row {
					open = append(open, i+1)
					if slices.Contains(adjusted, at) {
						set = append(set, i+1)
					}
				}
			}
			least := fl.Length
			for bits := range 1 << len(open) {
				var some []int
				for i, p := range open {
					if bits>>i&1 == 1 {
						some = append(some, p)
					}
				}
				if allowedAbove(fl.Length, m, slices.Concat(made, some), len(made)) {
					least = min(least, excess(fl, limit, m, made, some))
				}
			}
			require.Equal(t, least, excess(fl, limit, m, made, set), "%v made %v then %v", fl, made, set)
		}
	})
}

func allowedAbove(n int, m Method, set []int, made int) bool {
	for i, p := range set {
		if i < made {
			continue
		}
		if p == 1 || m == Weave && (p == n || i > 0 && p == set[i-1]+1) {
			return false
		}
	}
	return true
}
