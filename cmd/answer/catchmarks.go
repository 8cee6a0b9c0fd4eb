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

// columnMark tells of a column of the pattern, from 1, what is told in one breath of those with the same key.
type columnMark struct {
	key    markKey
	column int
}

type markKey struct {
	row, yarn int
	not, of   string // "not ", where most repeats have it; " of repeats 1, 4", empty for most
}

// commonCatches tells the catches most repeats have from what is otherwise in the
// others: floats over the start and at the edges add some, and one that crosses into
// the next repeat stands once fewer.
func commonCatches(f *floats.Fabric, p *floats.Plan) catchMarks {
	m := catchMarks{make([][]bool, len(f.Rows)), make([][]string, len(f.Rows)), make([][]string, len(f.Rows))}
	var told []columnMark
	inPattern := func(c floats.Catch) floats.Catch {
		return floats.Catch{Row: c.Row, Stitch: f.Rows[c.Row].InPattern(c.Stitch), Yarn: c.Yarn}
	}
	for _, same := range session.Gathered(p.Catches, inPattern) {
		r, at := &f.Rows[same[0].Row], inPattern(same[0])
		mark := columnMark{markKey{row: at.Row, yarn: at.Yarn}, r.InOrder()[at.Stitch].Column + 1}
		in := mapped(same, func(c floats.Catch) int { return r.PlaceOf(c.Stitch).Repeat })
		if repeats := r.BlockAt(same[0].Stitch).Repeats; 2*len(in) > repeats {
			if m.common[at.Row] == nil {
				m.common[at.Row] = make([]bool, len(r.Cells))
			}
			m.common[at.Row][mark.column-1] = true
			told = append(told, mark)
			mark.key.not, in = "not ", missing(in, repeats)
		}
		if len(in) > 0 {
			mark.key.of = " of " + chart.Plural("repeat", len(in)) + " " + strings.Join(session.Ranges(in), ", ")
			told = append(told, mark)
		}
	}
	for _, alike := range session.Gathered(told, func(c columnMark) markKey { return c.key }) {
		key := alike[0].key
		list := &m.yarns[key.row]
		if key.of != "" {
			list = &m.others[key.row]
		}
		columns := mapped(alike, func(c columnMark) int { return c.column })
		slices.Sort(columns)
		words := " in " + chart.Plural("column", len(columns)) + " " + session.Listed(numbers(columns), "and")
		*list = append(*list, key.not+f.Yarns[key.yarn].Name+words+key.of)
	}
	return m
}

// missing are the numbers from 1 to most that are not among some.
func missing(some []int, most int) (left []int) {
	for n := 1; n <= most; n++ {
		if !slices.Contains(some, n) {
			left = append(left, n)
		}
	}
	return left
}
