package picture

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
)

const (
	importSymbols = ".x+o=*v&^%~s|zT?" // for yarns without one: easy to tell apart in any typeface
	emptySymbol   = '_'
	noStitch      = chart.NoYarn
	doubtsListed  = 50 // in Report.Places, at most

	// MaxYarns is the most yarns an import makes.
	MaxYarns = 16
)

var errNoStitch = errors.New("there is no stitch in it: all of it is transparent or blank; give it a background")

type stitch struct {
	yarn     int // noStitch for an empty cell
	doubtful bool
}

// assemble makes a chart of stitches in rows from the top and from the left, without those above and below that hold
// none, and tells the report which are doubtful.
func assemble(rows [][]stitch, yarns []chart.Yarn, report *Report) (*chart.Chart, error) {
	rows, err := trimmed(rows, report)
	if err != nil {
		return nil, err
	}
	c := &chart.Chart{Yarns: yarns}
	for i, row := range rows {
		symbols := make([]rune, len(row))
		for j, s := range row {
			symbols[j] = emptySymbol
			if s.yarn == noStitch {
				c.Empty = emptySymbol
			} else {
				symbols[j] = yarns[s.yarn].Symbol
			}
			if s.doubtful {
				report.Doubtful++
				if len(report.Places) < doubtsListed {
					report.Places = append(report.Places, Place{len(rows) - i, len(row) - j})
				}
			}
		}
		slices.Reverse(symbols)
		c.Rows = append(c.Rows, symbols)
	}
	slices.Reverse(c.Rows)
	report.Rows = len(rows)
	return c, nil
}

func trimmed(rows [][]stitch, report *Report) ([][]stitch, error) {
	whole := func(row []stitch) bool {
		return slices.ContainsFunc(row, func(s stitch) bool { return s.yarn != noStitch })
	}
	first := slices.IndexFunc(rows, whole)
	if first < 0 {
		return nil, errNoStitch
	}
	last := len(rows)
	for !whole(rows[last-1]) {
		last--
	}
	for i := first; i < last; i++ {
		if !whole(rows[i]) {
			return nil, fmt.Errorf("line %d of %d from the top has only empty cells between stitches; say what they are with --blank YARN, or cut it out", i+1, len(rows))
		}
	}
	if last-first < len(rows) {
		report.note("rows without a stitch left out: %d at the top, %d at the bottom", first, len(rows)-last)
	}
	return rows[first:last], nil
}

// declare gives yarns without a symbol or name one of their own, none in reserved: "pale yellow 2" for the second.
func declare(yarns, reserved []chart.Yarn) {
	free := []rune(importSymbols)
	for i := range yarns {
		y := &yarns[i]
		if y.Symbol == 0 {
			at := slices.IndexFunc(free, func(r rune) bool {
				return !slices.ContainsFunc(yarns, func(y chart.Yarn) bool { return y.Symbol == r })
			})
			y.Symbol = free[at]
		}
		plain := y.Color.Name()
		for n := 1; y.Name == ""; n++ {
			name := plain
			if n > 1 {
				name = fmt.Sprintf("%s %d", plain, n)
			}
			called := func(y chart.Yarn) bool { return strings.EqualFold(y.Name, name) }
			if !slices.ContainsFunc(yarns, called) && !slices.ContainsFunc(reserved, called) {
				y.Name = name
			}
		}
	}
}

// Match says for which known yarn a color of a picture or table was taken.
type Match struct {
	From, To chart.Yarn
	DeltaE   float64 // CIEDE2000, 0 when equal
	Stitches int     // worked in it
	Doubt    bool    // another yarn is nearly as near, or a color that is clearly another went to the same yarn
}

// Far reports whether the yarn is not near the color at all: they can be told apart at a glance.
func (m Match) Far() bool { return m.DeltaE >= chart.AlikeDeltaE }

// TakeYarns returns an imported chart in which each yarn is the nearest of those given, of which there is one at
// least, by CIEDE2000, with its symbol, name and color, and tells for each which that was, in the order of c.Yarns.
// Of yarns equally near the first given counts.
func TakeYarns(c *chart.Chart, yarns []chart.Yarn) (*chart.Chart, []Match) {
	known := make([]shade, len(yarns))
	for i, y := range yarns {
		known[i] = shadeOf(y.Color, 0)
	}
	by, matches, counts := map[rune]chart.Yarn{}, []Match(nil), c.StitchCounts()
	for i, y := range c.Yarns {
		at, first, second := nearestShade(known, y.Color.Lab())
		if same := slices.Index(yarns, y); same >= 0 {
			at, first, second = same, 0, chart.AlikeDeltaE
		}
		by[y.Symbol] = yarns[at]
		matches = append(matches, Match{
			From: y, To: yarns[at], DeltaE: first, Stitches: counts[i],
			Doubt: first > doubtDeltaE && second < doubtRatio*first,
		})
	}
	doubtShared(matches)
	taken := c.WithYarns(by)
	slices.SortFunc(taken.Yarns, func(a, b chart.Yarn) int { return slices.Index(yarns, a) - slices.Index(yarns, b) })
	return taken, matches
}

func doubtShared(matches []Match) {
	for i := range matches {
		for j := range matches {
			a, b := &matches[i], &matches[j]
			if a.To == b.To && a.DeltaE < b.DeltaE && chart.DeltaE(a.From.Color.Lab(), b.From.Color.Lab()) >= ApartDeltaE {
				b.Doubt = true
			}
		}
	}
}
