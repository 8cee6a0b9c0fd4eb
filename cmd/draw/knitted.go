package draw

import (
	"fmt"
	"slices"

	"strandwise/floats"
	"strandwise/session"
)

// Knitted is what pictures show of a piece: its rows from the first on, the strands behind
// them and the catches.
type Knitted struct {
	Piece   *session.Piece
	Rows    int      // the last row shown, from 1
	Begin   int      // the first
	Made    int      // the last row shown as it was made; those above it are as planned
	Marks   [][]Mark // index 0 is row 1
	Strands []session.Strand
	Mends   []session.Mend

	Across int // columns shown, when not all: one repeat

	cut  *window  // the part shown, when not all
	laid [][]span // the strands by row, once they are asked for
}

// WorkedPart is the finished rows of a piece as they were made.
func WorkedPart(p *session.Piece, r *session.Review) *Knitted {
	return WithRowsToCome(p, p.State.Row, p.Mends(r))
}

// WithRowsToCome is the finished rows as they were made, with the gaps to mend, and above them
// the rows to come up to one, as they are planned.
func WithRowsToCome(p *session.Piece, to int, mends []session.Mend) *Knitted {
	k := &Knitted{Piece: p, Rows: max(to, p.State.Row), Begin: 1, Made: p.State.Row, Mends: mends}
	done := p.State.DoneRows()
	for _, row := range done {
		marks := markStates(row.Shown, row.Used)
		if !slices.Equal(row.Shown, row.Used) {
			markMoves(marks, p.Changes(row.Row).Moved)
		}
		k.Marks = append(k.Marks, k.lettered(row.Row, marks))
	}
	for row := k.Made + 1; row <= k.Rows; row++ {
		var marks []Mark
		for _, m := range p.Shown(row) {
			marks = append(marks, Mark{Mark: m, State: ToMake})
		}
		k.Marks = append(k.Marks, k.lettered(row, marks))
	}
	k.Strands = p.Strands(k.Rows, func(row int) []session.Mark {
		if row > k.Made {
			return p.Shown(row)
		}
		return done[row-1].Used
	})
	return k
}

// lettered gives the catches of a row their letters.
func (k *Knitted) lettered(row int, marks []Mark) []Mark {
	for i := range marks {
		marks[i].Letter = k.Piece.LetterOf(row, marks[i].Mark)
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

// gauge is that of the newest plan, zero when none is known.
func (k *Knitted) gauge() floats.Gauge {
	g, _ := floats.ParseGauge(k.Piece.State.SegmentAt(k.Rows).Gauge)
	return g
}

// twist reports whether catches of a row lie between stitches.
func (k *Knitted) twist(row int) bool {
	return k.Piece.State.GripAt(row).FloatMethod() == floats.Twist
}

// symbol is the character of a yarn.
func (k *Knitted) symbol(yarn int) string { return string(k.Piece.Layout.Fabric.Yarns[yarn].Symbol) }

// spotData names a stitch by its place, and a yarn. One repeat that stands for all has no number.
func (k *Knitted) spotData(row, stitch, yarn int) []Datum {
	at, data := k.Piece.PlaceOf(row, stitch), []Datum{{"row", fmt.Sprint(row)}}
	if at.Block > 0 {
		data = append(data, Datum{"block", fmt.Sprint(at.Block)})
	}
	if k.Across == 0 {
		data = append(data, Datum{"repeat", fmt.Sprint(at.Repeat)})
	}
	return append(data, Datum{"stitch", fmt.Sprint(at.Stitch)}, Datum{"yarn", k.symbol(yarn)})
}

// whole is the window onto everything that is to be shown.
func (k *Knitted) whole() window {
	if k.cut != nil {
		return *k.cut
	}
	return window{k.Begin, k.Rows, 0, k.Columns() - 1}
}
