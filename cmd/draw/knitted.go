package draw

import (
	"fmt"

	"strandwise/floats"
	"strandwise/session"
)

// Knitted is what pictures show of a piece: its rows from the first on, the strands behind
// them and the catches.
type Knitted struct {
	Piece   *session.Piece
	Rows    int      // the last row shown, from 1
	Begin   int      // the first
	Planned bool     // nothing of it is knitted: every catch is one to be made
	Marks   [][]Mark // index 0 is row 1
	Strands []session.Strand
	Mends   []session.Mend

	Across int // columns shown, when not all: one repeat
}

// Mark is a catch to be drawn.
type Mark struct {
	session.Mark
	State State
}

// State tells what became of a catch.
type State uint8

// The states.
const (
	AsPlanned State = iota // shown and made; in a plan, to be made
	NotMade                // shown, not made on this stitch
	Unplanned              // made, not shown on this stitch
)

// String is the word for the state in the facts of a drawing.
func (s State) String() string { return [...]string{"planned-made", "planned", "made"}[s] }

// WorkedPart is the finished rows of a piece as they were made.
func WorkedPart(p *session.Piece, r *session.Review) *Knitted {
	k := &Knitted{Piece: p, Rows: p.State.Row, Begin: 1, Mends: p.Mends(r)}
	done := p.State.DoneRows()
	for _, row := range done {
		k.Marks = append(k.Marks, markStates(row.Shown, row.Used))
	}
	k.Strands = p.Strands(k.Rows, func(row int) []session.Mark { return done[row-1].Used })
	return k
}

// markStates joins two lists in order.
func markStates(shown, used []session.Mark) []Mark {
	var marks []Mark
	for len(shown) > 0 || len(used) > 0 {
		switch {
		case len(used) == 0 || len(shown) > 0 && shown[0].Compare(used[0]) < 0:
			marks, shown = append(marks, Mark{shown[0], NotMade}), shown[1:]
		case len(shown) == 0 || used[0].Compare(shown[0]) < 0:
			marks, used = append(marks, Mark{used[0], Unplanned}), used[1:]
		default:
			marks, shown, used = append(marks, Mark{used[0], AsPlanned}), shown[1:], used[1:]
		}
	}
	return marks
}

// Columns is how many columns the widest row has, as far as they are shown.
func (k *Knitted) Columns() int {
	widest := 0
	if k.Across > 0 {
		return k.Across
	}
	for row := 1; row <= k.Rows; row++ {
		widest = max(widest, k.Piece.Row(row).Columns())
	}
	return widest
}

// rowWord is what a row is called.
func (k *Knitted) rowWord() string {
	if k.Piece.Layout.Fabric.Flat {
		return "row"
	}
	return "round"
}

// stitch is the width and the height of a stitch in mm by the gauge of the newest plan,
// and whether they are known. Without the row gauge stitches are drawn square.
func (k *Knitted) stitch() (width, height float64, known bool) {
	g, err := floats.ParseGauge(k.Piece.State.SegmentAt(k.Rows).Gauge)
	if err != nil {
		return 1, 1, false
	}
	width, height = g.StitchWidth(), g.RowHeight()
	if height == 0 {
		height = width
	}
	return width, height, true
}

// twist reports whether catches of a row lie between stitches.
func (k *Knitted) twist(row int) bool {
	return k.Piece.State.GripAt(row).FloatMethod() == floats.Twist
}

// symbol is the character of a yarn.
func (k *Knitted) symbol(yarn int) string { return string(k.Piece.Layout.Fabric.Yarns[yarn].Symbol) }

// spotData names a stitch and a yarn.
func (k *Knitted) spotData(row, stitch, yarn int) []Datum {
	return []Datum{{"row", fmt.Sprint(row)}, {"stitch", fmt.Sprint(stitch)}, {"yarn", k.symbol(yarn)}}
}
