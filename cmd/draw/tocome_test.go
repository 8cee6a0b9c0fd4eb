package draw

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/knitted"
	"strandwise/session"
)

// requirePlanTrue holds a drawing of a piece half knitted, up to its last row, to the piece: every
// float is there; in rows to come the catches shown, each where it holds its strand; in the
// others what was made, and none to make.
func requirePlanTrue(t require.TestingT, p *session.Piece) int {
	k := WithRowsToCome(p, p.Rows(), p.Review(nil).Mending)
	v, all := viewed(t, k, WrongSide)
	whole := *p.State
	whole.Row = p.Rows()
	want, got := floatsTrue(&session.Piece{State: &whole, Layout: p.Layout}), floatsRead(t, k, all)
	require.True(t, slices.Equal(want, got), "%v and %v", want, got)
	toMake, n := map[int][]session.Mark{}, 0
	for _, e := range ofClass(all, "catch") {
		if row := e.number(t, "data-row"); e.attr["data-catch"] == "to-make" {
			toMake[row] = append(toMake[row], session.Mark{Stitch: e.stitch(t, k), Yarn: k.Piece.Layout.Fabric.Yarn([]rune(e.attr["data-yarn"])[0])})
			n++
		}
	}
	inOrder(toMake)
	_, used := marksRead(t, k, all)
	for row := 1; row <= p.Rows(); row++ {
		if row <= p.State.Row {
			require.True(t, slices.Equal(p.State.DoneRow(row).Used, used[row]), "row %d", row)
			require.Empty(t, toMake[row])
			continue
		}
		require.True(t, slices.Equal(p.Shown(row), toMake[row]), "row %d: %v and %v", row, p.Shown(row), toMake[row])
		require.Empty(t, used[row])
	}
	requireAnchored(t, k, all)
	requireWorked(t, k, all)
	requireWarned(t, k, all)
	requireRebuilt(t, k, all)
	requireMoved(t, v, all)
	return n
}

// requireRebuilt wants the strands drawn and what lies over them to be the strands of the piece with their
// catches, as they are told stitch by stitch.
func requireRebuilt(t require.TestingT, k *Knitted, all []element) {
	type stitch struct {
		session.Spot
		yarn int
	}
	yarnOf := func(e element) int { return k.Piece.Layout.Fabric.Yarn([]rune(e.attr["data-yarn"])[0]) }
	legs := map[stitch]bool{}
	for _, e := range ofClass(all, "leg") {
		legs[stitch{k.Piece.Spot(e.number(t, "data-row"), e.stitch(t, k)), yarnOf(e)}] = true
	}
	var rebuilt, want []string
	for _, e := range ofClass(all, "strand") {
		if e.attr["data-runs-on"] != "" {
			continue
		}
		at := k.Piece.Spot(e.number(t, "data-row"), e.stitch(t, k))
		strand := fmt.Sprint(at, e.attr["data-yarn"], e.attr["data-kind"], e.attr["data-length"])
		for range e.number(t, "data-length") {
			if at.Stitch > k.Piece.Row(at.Row).Stitches() {
				at = session.Spot{Row: at.Row + 1, Stitch: 1}
			}
			at = k.Piece.Spot(at.Row, at.Stitch)
			if legs[stitch{at, yarnOf(e)}] {
				strand += fmt.Sprint(at)
			}
			at.Stitch++
		}
		rebuilt = append(rebuilt, strand)
	}
	for _, st := range k.Strands {
		strand := fmt.Sprint(st.From, k.symbol(st.Yarn), st.Kind.String(), fmt.Sprint(st.Length))
		for _, at := range st.Caught {
			strand += fmt.Sprint(at)
		}
		want = append(want, strand)
	}
	slices.Sort(want)
	slices.Sort(rebuilt)
	require.Equal(t, want, rebuilt)
}

func TestRowsToComeAreDrawnAsPlanned(t *testing.T) {
	n := 0
	for name := range knitted.Examples(t) {
		for _, rows := range []int{0, 3} {
			t.Run(fmt.Sprint(name, rows), func(t *testing.T) { n += requirePlanTrue(t, example(t, name, rows)) })
		}
	}
	yarns, flat, blocks := map[int]int{}, 0, 0
	for seed := range uint64(200) {
		k := knitted.Random(seed)
		if seed%4 == 0 {
			k = knitted.Blocks(seed)
			blocks++
		}
		lower(k, 1+int(seed%2))
		k.Rows, k.Even = int(seed%3), false // only what the planner planned can be adjusted
		p := k.Knit(t)
		n += requirePlanTrue(t, p)
		used := map[int]bool{}
		for row := 1; row <= p.Rows(); row++ {
			for _, s := range p.Row(row).InOrder() {
				used[s.Yarn] = true
			}
		}
		yarns[len(used)]++
		if k.Setup.Flat {
			flat++
		}
	}
	assert.Greater(t, n, 1000)
	assert.True(t, yarns[2] > 50 && yarns[3] > 30 && flat > 50 && blocks == 50)
}

// half is a band of four repeats of 24 stitches, five rounds of 22 knitted.
func half(t *testing.T) *session.Piece {
	k := knitted.Examples(t)["lantern-band"]
	k.Rows, k.Stray = 5, 0
	return k.Knit(t)
}

func TestCaptionTellsWhatIsPlanned(t *testing.T) {
	p := half(t)
	for _, c := range []struct {
		from, to    int
		name, about string
	}{
		{1, 5, "lantern-band, wrong side, rounds 1 to 5", "made as planned"},
		{4, 8, "lantern-band, wrong side, rounds 4 to 8, from round 6 as planned", "From round 6 on as planned: 28 catches to make."},
		{7, 8, "lantern-band, wrong side, rounds 7 to 8, as planned", "From round 7 on as planned: "},
	} {
		k := WithRowsToCome(p, c.to, nil)
		k.CutRows(c.from, c.to)
		s := Picture(k, Options{Side: WrongSide})
		assert.Equal(t, c.name, s.Name)
		assert.Contains(t, s.Description, c.about)
		line := 0
		var b bytes.Buffer
		require.NoError(t, SVG(&b, s))
		line = len(ofClass(readSVG(t, b.Bytes()), "to-come"))
		assert.Equal(t, map[bool]int{true: 1}[c.from == 4], line)
	}
}

// Columns of repeat 2 of 24 are 24 to 47 from 0, of 2 and 3 up to 71; all that is drawn of the
// round lies in them or comes in from their sides.
func TestCutLeavesRowsAndRepeats(t *testing.T) {
	k := WithRowsToCome(half(t), 9, nil)
	k.CutRows(5, 9)
	assert.Equal(t, 4, k.Repeats())
	k.CutRepeats(2, 3)
	assert.Equal(t, window{5, 9, 24, 71}, k.whole())
	s := Picture(k, Options{Side: WrongSide})
	assert.Contains(t, s.Name, "rounds 5 to 9, from round 6 as planned, repeat 2 stitch 1 to repeat 3 stitch 24")
	var b bytes.Buffer
	require.NoError(t, SVG(&b, s))
	for _, e := range ofClass(readSVG(t, b.Bytes()), "catch") {
		assert.Contains(t, []string{"2", "3"}, e.attr["data-repeat"])
		assert.Contains(t, []string{"5", "6", "7", "8", "9"}, e.attr["data-row"])
	}
}

// A row worked from the left begins its repeats at the other side.
func TestCutCountsInTheRowsOwnDirection(t *testing.T) {
	of := knitted.Examples(t)["pier-panel"]
	of.Setup.Parts[0].Repeats, of.Even = 2, true
	p := of.Knit(t)
	width := len(p.Row(2).Cells)
	for row, want := range map[int]window{1: {1, 1, 0, width - 1}, 2: {2, 2, width, 2*width - 1}} {
		k := WithRowsToCome(p, p.Rows(), nil)
		k.CutRows(row, row)
		k.CutRepeats(1, 1)
		assert.Equal(t, want, k.whole())
	}
}

// Eight stitches and three rows are shown on each side of a gap to mend, as far as there are any.
func TestAroundAGapToMend(t *testing.T) {
	k := worked(t, "tide-yoke")
	require.NotEmpty(t, k.Mends)
	for _, m := range k.Mends {
		s := Around(k, m)
		var b bytes.Buffer
		require.NoError(t, SVG(&b, s))
		var rows []int
		for _, e := range ofClass(readSVG(t, b.Bytes()), "number") {
			if n, err := strconv.Atoi(strings.TrimSpace(e.text)); err == nil && e.name == "text" {
				rows = append(rows, n)
			}
		}
		for row := max(1, m.From.Row-3); row <= min(k.Rows, m.To.Row+3); row++ {
			require.Contains(t, rows, row)
		}
		if m.From.Row == m.To.Row && m.From.Stitch > 8 && m.To.Stitch+8 <= k.Piece.Row(m.From.Row).Stitches() {
			first, last := session.ColumnOf(k.Piece.Row(m.From.Row), m.From.Stitch), session.ColumnOf(k.Piece.Row(m.From.Row), m.To.Stitch)
			want := float64(max(first-last, last-first)+1+16) * usualCell
			clip := ofClass(readSVG(t, b.Bytes()), "")
			at := slices.IndexFunc(clip, func(e element) bool { return e.name == "rect" && e.attr["fill"] == "" })
			require.InDelta(t, want+usualCell, clip[at].length(t, "width"), 0.01)
		}
	}
}

// A gap over the start of the round is shown whole: the end of the lower row, and on the same line
// beside it the start of the upper one, where the strand runs on (a round is a spiral).
func TestAroundAGapOverTheStart(t *testing.T) {
	seen := 0
	for _, k := range knitted.Examples(t) {
		k.Setup.Limit = 3
		p := k.Knit(t)
		worked := WorkedPart(p, p.Review(nil))
		for _, m := range worked.Mends {
			if m.From.Row == m.To.Row {
				continue
			}
			var b bytes.Buffer
			require.NoError(t, SVG(&b, Around(worked, m)))
			var points []Point
			for _, e := range ofClass(readSVG(t, b.Bytes()), "warning") {
				if e.attr["data-mend"] == fmt.Sprint(m.Number) {
					points = append(points, ends(t, e)...)
				}
			}
			slices.SortFunc(points, func(a, b Point) int { return cmp.Compare(a.X, b.X) })
			require.GreaterOrEqual(t, len(points), 4, "number %d", m.Number)
			require.InDelta(t, points[0].Y, points[len(points)-1].Y, 0.02)
			seen++
		}
	}
	assert.Greater(t, seen, 3)
}

// The overview has a pin for each gap to mend, at its row and its column of columns 1 to the last
// from the left.
func TestOverviewPinsEachGap(t *testing.T) {
	k := worked(t, "tide-yoke")
	s := Overview(k)
	var b bytes.Buffer
	require.NoError(t, SVG(&b, s))
	all := readSVG(t, b.Bytes())
	x0, x1, y0, y1 := s.Width, 0.0, s.Height, 0.0
	for _, e := range append(ofClass(all, "stitches"), ofClass(all, "ground")...) {
		x, y := e.length(t, "x"), e.length(t, "y")
		x0, x1, y0, y1 = min(x0, x), max(x1, x+e.length(t, "width")), min(y0, y), max(y1, y+e.length(t, "height"))
	}
	cell := (x1 - x0) / float64(k.Columns())
	var want, got []string
	columns := []float64{}
	for _, m := range k.Mends {
		place, r := k.Piece.PlaceOf(m.From.Row, m.From.Stitch), k.Piece.Row(m.From.Row)
		for _, place.Repeat = range m.Repeats {
			want = append(want, fmt.Sprint(m.Number))
			columns = append(columns, float64(session.ColumnOf(r, min(r.StitchAt(place)+m.Stitches/2, r.Stitches()))))
		}
	}
	for _, e := range ofClass(all, "pin") {
		if e.name == "text" {
			got = append(got, strings.TrimSpace(e.text))
			continue
		}
		require.InDelta(t, columns[len(got)], (e.length(t, "cx")-x0)/cell, 1.1)
		require.InDelta(t, y1-(float64(e.number(t, "data-row"))-0.5)*(y1-y0)/float64(k.Rows), e.length(t, "cy"), 0.02)
	}
	assert.Equal(t, want, got)
	assert.NotEmpty(t, got)
}
