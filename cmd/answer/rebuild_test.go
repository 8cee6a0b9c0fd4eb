package answer_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/paint"
	"strandwise/floats"
	"strandwise/session"
)

// A row is read back from its printed text alone and held against the fabric: yarn and technique
// stitch by stitch from where the row begins, every catch of every repeat.

// laid is a piece with its plan and its log.
type laid struct {
	*session.Piece
	records []session.Record
	charts  []*chart.Chart // by the first byte of their hash, from 1
}

func layPiece(t require.TestingT, on *session.CastOn, charts ...*chart.Chart) *laid {
	l := &laid{charts: charts}
	l.log(t, on)
	task := l.State.Task()
	task.Effort = 100 // any plan will do
	plan, err := floats.MakePlan(context.Background(), l.Layout.Fabric, task)
	require.NoError(t, err)
	l.Schedule = session.NewSchedule(plan, len(l.Layout.Fabric.Rows))
	return l
}

func (l *laid) log(t require.TestingT, e session.Event) {
	kind, payload := session.Encode(e)
	l.records = append(l.records, session.Record{Seq: uint64(len(l.records) + 1), Kind: kind, Payload: payload})
	state, err := session.Fold(l.records)
	require.NoError(t, err)
	layout, err := state.Lay(func(hash [32]byte) (*chart.Chart, error) { return l.charts[hash[0]-1], nil })
	require.NoError(t, err)
	schedule := (*session.Schedule)(nil)
	if l.Piece != nil {
		schedule = l.Schedule
	}
	l.Piece = &session.Piece{State: state, Layout: layout, Schedule: schedule}
}

func printed(t require.TestingT, s *session.Sheet, width int, marks string, plain bool) string {
	var b bytes.Buffer
	none := func(string) string { return "" }
	look := paint.Look{Paint: paint.New(paint.None), Marks: paint.ChooseMarks(marks, none), Width: width, Plain: plain}
	require.NoError(t, document.Write(&b, answer.NewRow(s, answer.RowOptions{}).Document(), look))
	return b.String()
}

// rebuilds prints a row in every way and wants it back.
func (l *laid) rebuilds(t require.TestingT, row int, width int) {
	s := l.Sheet(row)
	text := printed(t, s, width, paint.Unicode, false)
	l.same(t, readText(t, text, l.Layout.Fabric.Yarns), row, text)
	if len(s.Letters) <= 26 && (row == 1 || len(l.Letters(row-1)) <= 26) { // with more the letters take two columns, and so do the stitches
		l.sameStrip(t, row, text)
	}
	text = printed(t, s, 0, paint.ASCII, true)
	l.same(t, readPlain(t, text, l.Layout.Fabric.Yarns), row, text)
}

// same holds what was read against the fabric: the yarn and the technique of every stitch of
// the row, the catches of every repeat with their letters.
func (l *laid) same(t require.TestingT, r *reading, row int, text string) {
	want := l.Row(row)
	require.Equal(t, row, r.row, text)
	require.Equal(t, want.WrongSide, r.wrongSide, text)
	var yarns, words []string
	for _, s := range want.All() {
		yarns = append(yarns, l.Layout.Fabric.Yarns[s.Yarn].Name)
		word := ""
		if s.Technique != chart.Knit {
			word = session.WorkedAs(s.Technique, want.WrongSide, l.State.Setup.Mirror)
		}
		words = append(words, word)
	}
	require.Equal(t, yarns, r.yarns, text)
	require.Equal(t, words, r.words, text)
	catches := []readCatch{}
	for _, m := range l.Shown(row) {
		at := l.PlaceOf(row, m.Stitch)
		twist := l.State.Setup.Method == "twist" || want.Stitch(m.Stitch).Technique == chart.Purl
		catches = append(catches, readCatch{l.LetterOf(row, m), at, l.Layout.Fabric.Yarns[m.Yarn].Name, twist})
	}
	require.Equal(t, catches, r.inRow(want), text)
}

// sameStrip wants the strip to be the chart's row, and under each catch its letter.
func (l *laid) sameStrip(t require.TestingT, row int, text string) {
	want := l.Row(row)
	cells, under, fromLeft := readStrip(row, text)
	if cells == "" {
		require.Len(t, l.Sheet(row).Blocks[0].Often.Runs, 1, "only a row of one yarn may go without its strip:\n%s", text)
		return
	}
	require.Equal(t, want.FromLeft, fromLeft, text)
	symbols := []rune(cells)
	require.Len(t, symbols, len(want.Cells), text)
	for i, symbol := range symbols {
		cell := want.Cells[len(symbols)-1-i] // column 1 stands at the right
		if cell.IsEmpty() {
			require.Equal(t, '·', symbol, text)
			continue
		}
		require.Equal(t, l.Layout.Fabric.Yarns[cell.Yarn].Symbol, symbol, text)
	}
	for _, c := range l.Sheet(row).Letters {
		at := len(symbols) - 1 - want.InOrder()[want.Block(c.Block).From+c.Stitch-1].Column
		require.Contains(t, strings.ToLower(under[at]), c.Letter[len(c.Letter)-1:], "%d\n%s", at, text)
	}
}

// works are the ways to work each example.
var works = []func(*session.CastOn){
	func(*session.CastOn) {},
	func(on *session.CastOn) { on.Flat = true },
	func(on *session.CastOn) { on.Mirror = true },
	func(on *session.CastOn) {
		on.Flat, on.Mirror = true, true
		on.Grip = session.Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: "pattern"}
	},
}

func castOnOf(c *chart.Chart, repeats int) *session.CastOn {
	return &session.CastOn{
		Name: "piece", Parts: []session.PartRef{{Name: "chart", Hash: [32]byte{1}, Repeats: repeats, Times: 1, Rows: len(c.Rows)}},
		Limit: 4, RestLimit: 6,
		Grip: session.Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: "pattern"},
	}
}

func TestEveryRowOfTheExamplesCanBeReadBack(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.chart")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".chart"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			c, err := chart.Parse(file, text)
			require.NoError(t, err)
			for i, change := range works {
				on := castOnOf(c, 3)
				change(on)
				l := layPiece(t, on, c)
				for row := 1; row <= l.Rows(); row++ {
					l.rebuilds(t, row, []int{40, 80, 200}[(row+i)%3])
				}
			}
		})
	}
}

// drawChart draws a chart with shaping left out: cells of two or three yarns, some
// empty.
func drawChart(t *rapid.T, rows int) *chart.Chart {
	symbols := rapid.SampledFrom([]string{".x", ".xk", ".x_", ".xk_"}).Draw(t, "symbols")
	width := rapid.IntRange(1, 24).Draw(t, "columns")
	var b strings.Builder
	b.WriteString("yarn: . night tide #EFE6D2\nyarn: x fjord #1F4E79\nyarn: k kelp 2 #7E9455\nempty: _\nrows:\n")
	for range rows {
		b.WriteString(drawRow(t, symbols, width) + "\n")
	}
	c, err := chart.Parse("drawn.chart", []byte(b.String()))
	require.NoError(t, err)
	return c
}

// drawRow draws a row of long runs with a stitch at least.
func drawRow(t *rapid.T, symbols string, width int) string {
	var row strings.Builder
	for row.Len() < width {
		n := rapid.IntRange(1, 12).Draw(t, "run")
		row.WriteString(strings.Repeat(string(symbols[rapid.IntRange(0, len(symbols)-1).Draw(t, "yarn")]), n))
	}
	text := row.String()[:width]
	if strings.Trim(text, "_") == "" {
		return "." + text[1:]
	}
	return text
}

func TestRandomRowsCanBeReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.IntRange(1, 6).Draw(t, "rows")
		charts := []*chart.Chart{drawChart(t, rows)}
		on := castOnOf(charts[0], rapid.IntRange(1, 5).Draw(t, "repeats"))
		for range max(0, rapid.IntRange(-2, 3).Draw(t, "blocks beside")) {
			charts = append(charts, drawChart(t, rows))
			beside := on.Parts[0]
			beside.Hash, beside.Repeats, beside.Beside = [32]byte{byte(len(charts))}, rapid.IntRange(1, 4).Draw(t, "repeats"), nil
			on.Parts[0].Beside = append(on.Parts[0].Beside, beside)
		}
		rapid.SampledFrom(works).Draw(t, "work")(on)
		if !on.Flat && rapid.IntRange(0, 4).Draw(t, "steek") == 0 {
			on.Parts[0].Beside = append(on.Parts[0].Beside, session.PartRef{Name: "steek", Steek: rapid.IntRange(3, 9).Draw(t, "steek stitches")})
		}
		on.Limit = rapid.IntRange(1, 6).Draw(t, "limit")
		l := layPiece(t, on, charts...)
		width := rapid.SampledFrom([]int{40, 80, 200}).Draw(t, "width")
		for row := 1; row <= l.Rows(); row++ {
			l.rebuilds(t, row, width)
			l.knit(t)
		}
	})
}

// knit finishes the row to work, some of its catches left out.
func (l *laid) knit(t *rapid.T) {
	shown := l.Shown(l.State.Row + 1)
	var used []session.Mark
	for _, m := range shown {
		if rapid.IntRange(0, 3).Draw(t, "missed") > 0 {
			used = append(used, m)
		}
	}
	l.log(t, &session.RowKnit{Row: l.State.Row + 1, Shown: shown, Used: used})
}
