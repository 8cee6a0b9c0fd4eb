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

// mark is a catch of one repeat, in the pattern, from 0.
type mark struct{ row, stitch, yarn int }

// alike is what is told in one breath: catches of one yarn that stand in the same repeats.
type alike struct {
	row, yarn int
	not, of   string // "not ", where most repeats have it; " of repeats 1, 4", empty for most
}

// commonCatches tells the catches most repeats have from what is otherwise in the
// others: floats over the start and at the edges add some, and one that crosses into
// the next repeat stands once fewer.
func commonCatches(f *floats.Fabric, p *floats.Plan) catchMarks {
	m := catchMarks{make([][]bool, len(f.Rows)), make([][]string, len(f.Rows)), make([][]string, len(f.Rows))}
	marks, repeats := gathered(f, p)
	var told []alike
	columns := map[alike][]int{} // from 1
	tell := func(a alike, column int) {
		if columns[a] == nil {
			told = append(told, a)
		}
		columns[a] = append(columns[a], column+1)
	}
	for _, at := range marks {
		a, column := alike{row: at.row, yarn: at.yarn}, f.Rows[at.row].InOrder()[at.stitch].Column
		most, apart := split(repeats[at])
		if most {
			m.setCommon(at.row, column, len(f.Rows[at.row].Cells))
			tell(a, column)
			a.not = "not "
		}
		if len(apart) > 0 {
			a.of = " of " + chart.Plural("repeat", len(apart)) + " " + strings.Join(session.Ranges(apart), ", ")
			tell(a, column)
		}
	}
	for _, a := range told {
		list := &m.yarns[a.row]
		if a.of != "" {
			list = &m.others[a.row]
		}
		*list = append(*list, a.words(f.Yarns[a.yarn].Name, columns[a]))
	}
	return m
}

// gathered is the catches of a plan, those alike in several repeats once, in the order they are met, and by repeat, from
// 0, whether it has them.
func gathered(f *floats.Fabric, p *floats.Plan) (marks []mark, repeats map[mark][]bool) {
	repeats = map[mark][]bool{}
	for _, c := range p.Catches {
		r := &f.Rows[c.Row]
		at := mark{c.Row, r.InPattern(c.Stitch), c.Yarn}
		if repeats[at] == nil {
			marks = append(marks, at)
			repeats[at] = make([]bool, r.BlockAt(c.Stitch).Repeats)
		}
		repeats[at][r.PlaceOf(c.Stitch).Repeat-1] = true
	}
	return marks, repeats
}

func (m *catchMarks) setCommon(row, column, columns int) {
	if m.common[row] == nil {
		m.common[row] = make([]bool, columns)
	}
	m.common[row][column] = true
}

// words tells the yarn and its columns, from 1.
func (a alike) words(yarn string, columns []int) string {
	slices.Sort(columns)
	return a.not + yarn + " in " + chart.Plural("column", len(columns)) + " " + session.Listed(numbers(columns), "and") + a.of
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
