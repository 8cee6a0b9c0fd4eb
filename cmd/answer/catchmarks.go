package answer

import (
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
)

// catchMarks is a plan gathered by row and column of one repeat; its lists are by row.
type catchMarks struct {
	common [][]bool   // columns caught in more than half of the repeats; nil for none
	yarns  [][]string // those catches with their yarns, "oat in columns 3 and 9"
	others [][]string // what is caught in the few repeats that are not as most, "oat in columns 3 and 23 of repeat 4"
}

// commonCatches tells the catches most repeats have from what is otherwise in the
// others: floats over the start and at the edges add some, and one that crosses into
// the next repeat stands once fewer.
func commonCatches(f *floats.Fabric, p *floats.Plan) catchMarks {
	m := catchMarks{make([][]bool, len(f.Rows)), make([][]string, len(f.Rows)), make([][]string, len(f.Rows))}
	type mark struct{ row, stitch, yarn int } // in the pattern, from 0
	var marks []mark
	repeats := map[mark][]bool{}
	for _, c := range p.Catches {
		r := &f.Rows[c.Row]
		at := mark{c.Row, r.InPattern(c.Stitch), c.Yarn}
		if repeats[at] == nil {
			marks = append(marks, at)
			repeats[at] = make([]bool, r.BlockAt(c.Stitch).Repeats)
		}
		repeats[at][r.PlaceOf(c.Stitch).Repeat-1] = true
	}
	type alike struct { // what is told in one breath
		row, yarn int
		not, of   string // "not ", where most repeats have it; " of repeats 1, 4", empty for most
	}
	var told []alike
	columns := map[alike][]int{} // from 1
	tell := func(a alike, column int) {
		if columns[a] == nil {
			told = append(told, a)
		}
		columns[a] = append(columns[a], column+1)
	}
	for _, at := range marks {
		r, not := &f.Rows[at.row], ""
		column := r.InOrder()[at.stitch].Column
		most, apart := split(repeats[at])
		if most {
			if m.common[at.row] == nil {
				m.common[at.row] = make([]bool, len(r.Cells))
			}
			m.common[at.row][column] = true
			tell(alike{row: at.row, yarn: at.yarn}, column)
			not = "not "
		}
		if len(apart) > 0 {
			tell(alike{at.row, at.yarn, not, " of " + chart.Plural("repeat", len(apart)) + " " + strings.Join(session.Ranges(apart), ", ")}, column)
		}
	}
	for _, a := range told {
		in := columns[a]
		slices.Sort(in)
		words := a.not + f.Yarns[a.yarn].Name + " in " + chart.Plural("column", len(in)) + " " + session.Listed(numbers(in), "and") + a.of
		list := &m.yarns[a.row]
		if a.of != "" {
			list = &m.others[a.row]
		}
		*list = append(*list, words)
	}
	return m
}

// split tells whether most repeats have a catch, and which, from 1, depart from most.
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
