package render

import (
	"fmt"
	"strings"

	"strandwise/floats"
)

// catchMarks is a plan gathered by row and column of one repeat.
type catchMarks struct {
	common [][]bool // by row: columns caught in more than half of the repeats; nil for none
	others []otherCatches
}

// otherCatches tells what is caught in the few repeats that are not as most.
type otherCatches struct {
	row   int
	words []string // "oat in column 23 of repeat 4"
}

// commonCatches tells the catches most repeats have from what is otherwise in the
// others: floats over the start and at the edges add some, and one that crosses into
// the next repeat stands once fewer.
func commonCatches(f *floats.Fabric, p *floats.Plan) catchMarks {
	m := catchMarks{common: make([][]bool, len(f.Rows))}
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
	other := otherCatches{row: row}
	for _, at := range order {
		column := r.InOrder()[at.stitch].Column
		most, apart := split(repeats[at])
		lead := ""
		if most {
			lead = "not "
			if m.common[row] == nil {
				m.common[row] = make([]bool, len(r.Cells))
			}
			m.common[row][column] = true
		}
		if len(apart) > 0 {
			other.words = append(other.words, fmt.Sprintf("%s%s in column %d of repeat %s",
				lead, f.Yarns[at.yarn].Name, column+1, strings.Join(Ranges(apart), ", ")))
		}
	}
	if len(other.words) > 0 {
		m.others = append(m.others, other)
	}
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
