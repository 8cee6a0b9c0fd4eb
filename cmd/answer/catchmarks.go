package answer

import (
	"fmt"
	"slices"
	"strings"

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
	type mark struct{ stitch, yarn int } // within the repeat, from 0
	row := catches[0].Row
	r := &f.Rows[row]
	repeats := map[mark][]bool{}
	var order []mark
	for _, c := range catches {
		at := mark{(c.Stitch - 1) % r.RepeatStitches(), c.Yarn}
		if repeats[at] == nil {
			order = append(order, at)
			repeats[at] = make([]bool, r.Repeats)
		}
		repeats[at][(c.Stitch-1)/r.RepeatStitches()] = true
	}
	var most, apart alikes
	for _, at := range order {
		column := r.InOrder()[at.stitch].Column
		common, others := split(repeats[at])
		if common {
			if m.common[row] == nil {
				m.common[row] = make([]bool, len(r.Cells))
			}
			m.common[row][column] = true
			most.add(alike{yarn: at.yarn}, column+1)
		}
		if len(others) > 0 {
			apart.add(alike{at.yarn, common, strings.Join(session.Ranges(others), ", "), len(others)}, column+1)
		}
	}
	m.yarns[row] = most.words(f)
	if words := apart.words(f); len(words) > 0 {
		m.others = append(m.others, otherCatches{row, words})
	}
}

// alike is what catches told in one breath share.
type alike struct {
	yarn    int
	not     bool   // they are missing where most repeats have them
	repeats string // "3", "1, 4"; empty for most repeats
	count   int    // of repeats
}

// alikes gathers columns by what they share, in the order met.
type alikes struct {
	order   []alike
	columns map[alike][]int
}

func (a *alikes) add(key alike, column int) {
	if a.columns == nil {
		a.columns = map[alike][]int{}
	}
	if a.columns[key] == nil {
		a.order = append(a.order, key)
	}
	a.columns[key] = append(a.columns[key], column)
}

// words tells them: "oat in columns 3 and 9 of repeat 4".
func (a *alikes) words(f *floats.Fabric) []string {
	var all []string
	for _, key := range a.order {
		columns := a.columns[key]
		slices.Sort(columns)
		numbers := make([]string, len(columns))
		for i, n := range columns {
			numbers[i] = fmt.Sprint(n)
		}
		text := f.Yarns[key.yarn].Name + " in " + noun("column", len(columns)) + " " + session.Listed(numbers, "and")
		if key.not {
			text = "not " + text
		}
		if key.repeats != "" {
			text += " of " + noun("repeat", key.count) + " " + key.repeats
		}
		all = append(all, text)
	}
	return all
}

func noun(word string, n int) string {
	if n == 1 {
		return word
	}
	return word + "s"
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
