package draw

import (
	"fmt"
	"slices"

	"strandwise/floats"
	"strandwise/session"
)

// The wrong side shows every float as a strand that hangs from its anchors: its own
// stitches, its catches, the edge. How deep it sags follows from how far it runs; the
// figures are our choice and say nothing of tension. A float over the start is drawn in
// two pieces, one in each of its rows.

// strandSpan is the part of a strand that lies in one row.
type strandSpan struct {
	strand      *session.Strand
	row         int
	first, last int  // stitches
	upper       bool // of a float over the start, the part in its upper row
	caught      []int
}

// pieces parts strands by row; index 0 is row 1.
func (k *Knitted) pieces() [][]strandSpan {
	rows := make([][]strandSpan, k.Rows+1)
	for i := range k.Strands {
		st := &k.Strands[i]
		lower, upper := k.split(st)
		rows[lower.row-1] = append(rows[lower.row-1], lower)
		if upper.strand != nil {
			rows[upper.row-1] = append(rows[upper.row-1], upper)
		}
	}
	for _, row := range rows {
		slices.SortStableFunc(row, func(a, b strandSpan) int { return a.strand.Yarn - b.strand.Yarn })
	}
	return rows
}

func (k *Knitted) split(st *session.Strand) (lower, upper strandSpan) {
	n := k.Piece.Row(st.From.Row).Stitches()
	here := min(st.Length, n-st.From.Stitch+1)
	lower = strandSpan{strand: st, row: st.From.Row, first: st.From.Stitch, last: st.From.Stitch + here - 1}
	if here < st.Length {
		upper = strandSpan{strand: st, row: st.From.Row + 1, first: 1, last: st.Length - here, upper: true}
	}
	for _, c := range st.Caught {
		if c.Row == lower.row {
			lower.caught = append(lower.caught, c.Stitch)
		} else {
			upper.caught = append(upper.caught, c.Stitch)
		}
	}
	return lower, upper
}

// hung is a strand's piece with its anchors: edges of columns and the height they hang at.
type hung struct {
	strandSpan
	anchors []float64
	starts  []int // by bow, its first stitch
	y       float64
}

// hang finds the anchors of a piece. At its own stitches a strand comes out of their
// middle; at the edge it ends at it, or goes a little beyond where it runs on.
func (v *view) hang(p strandSpan, slot int) hung {
	h := hung{strandSpan: p, y: v.hangs(p.row, slot), starts: []int{p.first}}
	on := v.onward(p.row)
	begin, end := v.entry(p.row, p.first), v.exit(p.row, p.last)
	if p.first > 1 || p.strand.Kind == floats.OverStart {
		begin -= ownStitch * on
	}
	if p.last < v.k.Piece.Row(p.row).Stitches() || p.strand.Kind == floats.OverStart {
		end += ownStitch * on
	}
	h.anchors = append(h.anchors, begin)
	for _, stitch := range p.caught {
		h.anchors = append(h.anchors, v.anchor(p.row, stitch))
		if !v.k.twist(p.row) {
			stitch++
		}
		h.starts = append(h.starts, stitch)
	}
	h.anchors = append(h.anchors, end)
	return h
}

// ownStitch is how far a strand reaches into the stitch it comes from, in stitches.
const ownStitch = 0.35

// hangs is the height of the anchors of a row; a third and further yarn hangs lower.
func (v *view) hangs(row, slot int) float64 { return v.y(row) + v.cell.Y*(0.3+0.13*float64(slot)) }

// bow is the way from one anchor to the next.
func (v *view) bow(h hung, i int) []Point {
	a, b := h.anchors[i], h.anchors[i+1]
	across := max(a-b, b-a)
	depth := v.cell.Y * min(0.5, 0.05+0.055*across)
	return []Point{{v.x(a), h.y}, {v.x((a + b) / 2), h.y + 2*depth}, {v.x(b), h.y}}
}

// strands draws the strands of every row, then over them the warnings, the catches and the
// numbers, so that none hides another.
func (v *view) strands() {
	pieces, mends := v.k.pieces(), v.k.mendsAt()
	var over []warning
	v.eachRow(func(row int, _ *floats.Row) {
		slots := slotsOf(pieces[row-1])
		var shown []hung
		for _, p := range pieces[row-1] {
			if h := v.hang(p, slots[p.strand.Yarn]); v.sees(h.anchors[0], h.anchors[len(h.anchors)-1]) {
				shown = append(shown, h)
				over = append(over, v.warnings(h, mends)...)
			}
		}
		v.strandsOf(shown)
	})
	for _, w := range over {
		v.warn(w)
	}
	v.eachRow(func(row int, _ *floats.Row) { v.catchesOf(row, slotsOf(pieces[row-1])) })
	for _, w := range over {
		v.tag(v.inSight(w.bow[0].X, w.bow[2].X), (w.bow[0].Y+w.bow[1].Y)/2, fmt.Sprint(w.mend.Number))
	}
}

// slotsOf gives the yarns of a row heights to hang at: one height while no more than two
// yarns float, since two never float over one stitch.
func slotsOf(pieces []strandSpan) map[int]int {
	slots := map[int]int{}
	for _, p := range pieces {
		if _, known := slots[p.strand.Yarn]; !known {
			slots[p.strand.Yarn] = len(slots)
		}
	}
	if len(slots) <= 2 {
		clear(slots)
	}
	return slots
}

// strandsOf draws the strands of a row: first what sets them off, then themselves.
func (v *view) strandsOf(row []hung) {
	yarns := v.k.Piece.Layout.Fabric.Yarns
	width := min(v.cell.X, v.cell.Y) * 0.15
	for _, h := range row {
		v.add(Shape{Kind: Bow, Class: "edge", Points: v.course(h), Ink: Ink{Stroke: against(yarns[h.strand.Yarn].Color), Width: width * 1.6}})
	}
	for _, h := range row {
		v.add(Shape{
			Kind: Bow, Class: "strand", Points: v.course(h), Data: v.strandData(h.strandSpan),
			Ink: Ink{Stroke: &yarns[h.strand.Yarn].Color, Width: width},
		})
	}
}

// course is the whole way of a strand's piece.
func (v *view) course(h hung) []Point {
	points := v.bow(h, 0)
	for i := 1; i < len(h.anchors)-1; i++ {
		points = append(points, v.bow(h, i)[1:]...)
	}
	return points
}

func (v *view) strandData(p strandSpan) []Datum {
	data := v.k.spotData(p.strand.From.Row, p.strand.From.Stitch, p.strand.Yarn)
	if p.upper {
		return append(data, Datum{"runs-on", "yes"})
	}
	return append(data, Datum{"length", fmt.Sprint(p.strand.Length)}, Datum{"kind", p.strand.Kind.String()})
}

// gapStart tells a gap by its yarn and the first stitch it has in a row.
type gapStart struct{ yarn, row, stitch int }

// mendsAt finds the mending list by where its gaps begin in each row they run through.
func (k *Knitted) mendsAt() map[gapStart]*session.Mend {
	at := map[gapStart]*session.Mend{}
	for i := range k.Mends {
		m := &k.Mends[i]
		at[gapStart{m.Yarn, m.From.Row, m.From.Stitch}] = m
		if m.To.Row > m.From.Row {
			at[gapStart{m.Yarn, m.To.Row, 1}] = m
		}
	}
	return at
}

// warning is a bow of a strand whose gap is over the limit.
type warning struct {
	bow  []Point
	mend *session.Mend
}

// warnings finds the gaps of a strand's piece that are over the limit.
func (v *view) warnings(h hung, mends map[gapStart]*session.Mend) []warning {
	var all []warning
	for i, start := range h.starts {
		last := h.last
		if i < len(h.caught) {
			last = h.caught[i] - 1
		}
		if m := mends[gapStart{h.strand.Yarn, h.row, start}]; m != nil && start <= last {
			all = append(all, warning{v.bow(h, i), m})
		}
	}
	return all
}

// warn draws a warning: told from a strand by its color and by its dashes.
func (v *view) warn(w warning) {
	width := min(v.cell.X, v.cell.Y) * 0.2
	v.add(Shape{Kind: Bow, Class: "warning-edge", Points: w.bow, Ink: Ink{Stroke: &white, Width: width * 1.7}})
	v.add(Shape{
		Kind: Bow, Class: "warning", Points: w.bow, Ink: Ink{Stroke: &warningRed, Width: width, Dash: width * 1.3},
		Data: append(v.k.spotData(w.mend.From.Row, w.mend.From.Stitch, w.mend.Yarn), Datum{"mend", fmt.Sprint(w.mend.Number)}),
	})
}

// inSight is the middle of what the window shows between two places.
func (v *view) inSight(a, b float64) float64 {
	lo, hi := max(min(a, b), v.left), min(max(a, b), v.left+v.bodyWidth())
	return (lo + hi) / 2
}

// tag is a number in a box, within the stitches.
func (v *view) tag(x, y float64, text string) {
	size := min(v.cell.X, v.cell.Y) * 0.62
	w, h := size*(0.35+0.62*float64(len(text))), size*1.05
	x = max(v.left+w/2, min(x, v.left+v.bodyWidth()-w/2))
	v.box("tag", x-w/2, y-h/2, w, h, Ink{Fill: &white, Stroke: &warningRed, Width: size * 0.09})
	v.add(Shape{Kind: Label, Class: "tag", Points: []Point{{x, y + size*0.36}}, Size: size, Align: Middle, Text: text, Bold: true, Ink: Ink{Fill: &Black}})
}

// catchesOf draws the catches of a row where they hold their strands.
func (v *view) catchesOf(row int, slots map[int]int) {
	yarns := v.k.Piece.Layout.Fabric.Yarns
	radius := min(v.cell.X, v.cell.Y) * 0.2
	for _, m := range v.k.Marks[row-1] {
		if m.Stitch > v.k.Piece.Row(row).Stitches() {
			continue
		}
		edge := v.anchor(row, m.Stitch)
		if !v.sees(edge, edge) {
			continue
		}
		ink := Ink{Fill: &yarns[m.Yarn].Color, Stroke: &Black, Width: radius * 0.35}
		v.mark(m, row, Point{v.x(edge), v.hangs(row, slots[m.Yarn])}, radius, ink)
	}
}
