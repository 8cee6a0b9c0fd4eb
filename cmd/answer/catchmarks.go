package answer

import (
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
)

// catchMarks is a plan gathered by row and column of one repeat.
type catchMarks struct {
	common [][]bool   // by row: columns caught in more than half of the repeats; nil for none
	yarns  [][]string // by row: those catches with their yarns, "oat in columns 3 and 9"
	others []otherCatches
}

// otherCatches tells what is caught in the few repeats that are not as most.
type otherCatches struct {
	row   int
	words []string // "oat in columns 3 and 23 of repeat 4"
}

// commonCatches tells the catches most repeats have from what is otherwise in the
// others: floats over the start and at the edges add some, and one that crosses into
// the next repeat stands once fewer.
func commonCatches(f *floats.Fabric, p *floats.Plan) catchMarks {
	m := catchMarks{common: make([][]bool, len(f.Rows)), yarns: make([][]string, len(f.Rows))}
	for from := 0; from < len(p.Catches); {
		to := from
		for to < len(p.Catches) && p.Catches[to].Row == p.Catches[from].Row {
			to++
		}
		m.gather(f, p.Catches[from:to])
		from = to
	}
	return m
}

// gather takes the catches of one row.
func (m *catchMarks) gather(f *floats.Fabric, catches []floats.Catch) {
	type mark struct{ stitch, yarn int } // in the pattern, from 0
	row := catches[0].Row
	r := &f.Rows[row]
	repeats := map[mark][]bool{}
	var order []mark
	for _, c := range catches {
		at := mark{r.InPattern(c.Stitch), c.Yarn}
		if repeats[at] == nil {
			order = append(order, at)
			repeats[at] = make([]bool, r.BlockAt(c.Stitch).Repeats)
		}
		repeats[at][r.PlaceOf(c.Stitch).Repeat-1] = true
	}
	var most, apart []alike
	for _, at := range order {
		column := r.InOrder()[at.stitch].Column
		common, others := split(repeats[at])
		if common {
			if m.common[row] == nil {
				m.common[row] = make([]bool, len(r.Cells))
			}
			m.common[row][column] = true
			most = gathered(most, alike{yarn: at.yarn}, column+1)
		}
		if len(others) > 0 {
			apart = gathered(apart, alike{yarn: at.yarn, not: common, of: " of " + chart.Plural("repeat", len(others)) + " " + strings.Join(session.Ranges(others), ", ")}, column+1)
		}
	}
	for _, a := range most {
		m.yarns[row] = append(m.yarns[row], a.words(f))
	}
	if len(apart) > 0 {
		other := otherCatches{row: row}
		for _, a := range apart {
			other.words = append(other.words, a.words(f))
		}
		m.others = append(m.others, other)
	}
}

// alike is catches that are told in one breath.
type alike struct {
	yarn    int
	not     bool   // they are missing where most repeats have them
	of      string // " of repeats 1, 4"; empty for most repeats
	columns []int  // from 1
}

// gathered is what was gathered, in the order met, with one column more.
func gathered(all []alike, one alike, column int) []alike {
	at := slices.IndexFunc(all, func(a alike) bool { return a.yarn == one.yarn && a.not == one.not && a.of == one.of })
	if at < 0 {
		at, all = len(all), append(all, one)
	}
	all[at].columns = append(all[at].columns, column)
	return all
}

// words tells them: "oat in columns 3 and 9 of repeat 4".
func (a alike) words(f *floats.Fabric) string {
	slices.Sort(a.columns)
	not := map[bool]string{true: "not "}[a.not]
	return not + f.Yarns[a.yarn].Name + " in " + chart.Plural("column", len(a.columns)) + " " + session.Listed(numbers(a.columns), "and") + a.of
}

// split tells whether most repeats have a catch, and which depart from most.
func split(has []bool) (most bool, apart []int) {
	n := 0
	for _, there := range has {
		if there {
			n++
		}
	}
	most = 2*n > len(has)
	for i, there := range has {
		if there != most {
			apart = append(apart, i+1)
		}
	}
	return most, apart
}
