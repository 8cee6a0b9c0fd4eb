package document

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/paint"
)

// Every writer is a switch over blocks, in a method named block; a kind of block is a type
// with a method isBlock.
func TestEveryWriterHasACaseForEachBlock(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	var kinds []string
	writers := map[string][]string{}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		for _, d := range file.Decls {
			f, is := d.(*ast.FuncDecl)
			switch {
			case !is || f.Recv == nil:
			case f.Name.Name == "isBlock":
				kinds = append(kinds, f.Recv.List[0].Type.(*ast.Ident).Name)
			case f.Name.Name == "block":
				writers[name] = cases(f)
			}
		}
	}
	require.GreaterOrEqual(t, len(kinds), 6)
	require.GreaterOrEqual(t, len(writers), 2)
	for name, has := range writers {
		assert.ElementsMatch(t, kinds, has, name)
	}
}

// cases are the types that a type switch has a case for.
func cases(f *ast.FuncDecl) []string {
	var names []string
	ast.Inspect(f, func(n ast.Node) bool {
		if s, is := n.(*ast.TypeSwitchStmt); is {
			for _, c := range s.Body.List {
				for _, e := range c.(*ast.CaseClause).List {
					names = append(names, e.(*ast.Ident).Name)
				}
			}
		}
		return true
	})
	return names
}

var told = Document{
	Title: "mitten",
	Yarns: []chart.Yarn{{Symbol: 'o', Name: "oat"}, {Symbol: 'f', Name: "fjord", Color: chart.Color{B: 0x80}}},
	Blocks: []Block{
		Heading{Text: Named("mitten", ""), Sum: Words("5 of 40 rounds")},
		Line{Label: "1. ", Text: Words("oat rests over 9 stitches; catch it once more, or leave it as it is")},
		Line{Text: Text{{Text: "9 fjord", Yarn: 2}, {Text: " and "}, {Text: "▲", Aloud: "a catch", Tone: Strong}}},
		Pairs{[]Pair{{"oat", Words("3 floats; longest gap (4; 5) stitches")}, {"fjord", Words("none")}}},
		Heading{Text: Words("Catches by round")},
		List{Between: ";", Members: []Text{Words("rounds 1 to 4: none"), Words("round 5: oat 8")}},
		List{Lead: "chart rows", Between: ",", Members: []Text{Words("2"), Words("5 to 9")}},
		Row{Number: "5", Head: "5, 6 times:", Aloud: "round 5 of 40; 6 times", Runs: []Run{
			{Text{{Text: "3 oat", Yarn: 1}, {Text: ","}}, "3 oat"},
			{Text{{Text: "11 fjord", Yarn: 2}, {Text: " "}, {Text: "(5,", Whole: true}, {Text: " "}, {Text: "catch a,", Whole: true}, {Text: " "}, {Text: "5)", Whole: true}}, "11 fjord: 5, catch A on the next, 5"},
		}},
		Strip{Number: 5, Columns: []Column{{Stitch: 1, Signs: []string{"a"}}, {Cell: chart.Cell{Yarn: 1}, Stitch: 2}}},
	},
}

func written(t *testing.T, width int, depth paint.Depth) string {
	var b strings.Builder
	look := Look{Paint: paint.New(depth), Marks: paint.ChooseMarks(paint.Unicode, nil), Width: width}
	require.NoError(t, WriteText(&b, told, look))
	return b.String()
}

func TestText(t *testing.T) {
	assert.Equal(t, `mitten: 5 of 40 rounds
  1. oat rests over 9 stitches; catch it
     once more, or leave it as it is
  9 fjord and ▲
  oat    3 floats; longest gap (4; 5)
         stitches
  fjord  none

Catches by round
  rounds 1 to 4: none; round 5: oat 8
  chart rows 2, 5 to 9
5, 6 times: 3 oat,
5: 11 fjord (5, catch a, 5)
5 fo ←
   a
`, written(t, 40, paint.None))
}

func TestNarrowText(t *testing.T) {
	assert.Equal(t, `mitten: 5 of
40 rounds
  1. oat rests
     over 9
     stitches;
     catch it
     once
     more, or
     leave it
     as it is
  9 fjord and
  ▲
  oat: 3
  floats;
  longest gap
  (4; 5)
  stitches
  fjord: none

Catches by
round
  rounds 1 to
  4: none;
  round 5: oat
  8
  chart rows
  2, 5 to 9
5, 6 times:
5: 3 oat,
5: 11 fjord
5: (5,
5: catch a, 5)
5 fo ←
   a
`, written(t, 14, paint.None))
}

// Strong is code 1, a color of a yarn 48 and 38 (ECMA-48); the label and the sign between
// runs do not stand on the yarn.
func TestTextInColor(t *testing.T) {
	text := written(t, 80, paint.True)
	assert.Contains(t, text, "\x1b[1mmitten: 5 of 40 rounds\x1b[22m\n")
	assert.Regexp(t, `\x1b\[48;2;0;0;128;[0-9;]*m9 fjord\x1b\[[0-9;]*m and \x1b\[1m▲`, text)
	assert.Regexp(t, `\x1b\[1m5, 6 times: \x1b\[22m\x1b\[48;2;0;0;0;[0-9;]*m3 oat\x1b\[[0-9;]*m\x1b\[1m,`, text)
}

func TestPlain(t *testing.T) {
	var b strings.Builder
	require.NoError(t, WritePlain(&b, told))
	assert.Equal(t, `mitten: 5 of 40 rounds.
Oat rests over 9 stitches.
Catch it once more, or leave it as it is.
9 fjord and a catch.
Oat: 3 floats.
Longest gap (4; 5) stitches.
Fjord: none.
Catches by round.
Rounds 1 to 4: none.
Round 5: oat 8.
Chart rows 2, 5 to 9.
Round 5 of 40.
6 times.
3 oat.
11 fjord: 5, catch A on the next, 5.
`, b.String())
}

// A name keeps its letters and its signs, and a capital is made of a whole letter.
func TestNamesAreHeardAsSpelled(t *testing.T) {
	var b strings.Builder
	require.NoError(t, WritePlain(&b, Document{Blocks: []Block{
		Line{Text: Named("a; b (", "; done")}, Line{Text: Words("écru is used up")},
	}}))
	assert.Equal(t, "a; b (.\nDone.\nÉcru is used up.\n", b.String())
}

type failing struct{ left int }

func (f *failing) Write(b []byte) (int, error) {
	if f.left--; f.left < 0 {
		return 0, assert.AnError
	}
	return len(b), nil
}

func TestFirstFailedWriteIsTold(t *testing.T) {
	look := Look{Paint: paint.New(paint.None), Width: 40}
	assert.ErrorIs(t, WriteText(&failing{}, told, look), assert.AnError)
	assert.ErrorIs(t, WritePlain(&failing{}, told), assert.AnError)
}

// A stream looks at each write for what could steer a terminal: no code and no letter may be cut in two.
func TestADocumentIsWrittenAsAWhole(t *testing.T) {
	long := told
	long.Blocks = slices.Repeat(told.Blocks, 200)
	w := &failing{left: 1} // a second write fails
	require.NoError(t, WriteText(w, long, Look{Paint: paint.New(paint.True), Width: 40}))
	assert.Zero(t, w.left)
	require.NoError(t, WritePlain(&failing{left: 1}, long))
}
