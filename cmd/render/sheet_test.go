package render

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/paint"
	"strandwise/session"
)

var update = flag.Bool("update", false, "write the golden files anew")

// looks are the ways a sheet is shown, but for the width.
var looks = []struct {
	name  string
	depth paint.Depth
	marks string
	plain bool
}{
	{"truecolor", paint.True, paint.Unicode, false},
	{"256", paint.Palette, paint.Unicode, false},
	{"16", paint.Sixteen, paint.Unicode, false},
	{"none", paint.None, paint.Unicode, false},
	{"ascii", paint.None, paint.ASCII, false},
	{"plain", paint.None, paint.Unicode, true},
}

var widths = []int{40, 80, 200}

func lookOf(i, width int) Look {
	l := looks[i]
	return Look{Paint: paint.New(l.depth), Marks: paint.ChooseMarks(l.marks, os.Getenv), Width: width, Plain: l.plain}
}

// showing is a sheet worth looking at.
type showing struct {
	about   string
	piece   *session.Piece
	row     int
	options SheetOptions
}

// showings are rows of the examples: one with catches and a new motion, one without
// catches, moved catches, a wrong-side row from the left, shaping in three yarns, a
// wide chart, and a row for a mirror knitter who twists.
func showings(t testing.TB) []showing {
	k := examplesKnitted(t)
	of := func(name string, rows int, change func(*session.CastOn)) *session.Piece {
		n := k[name]
		n.rows, n.stray = rows, 0
		if change != nil {
			n.setup.Grip = session.Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: session.DominantPattern}
			change(&n.setup)
		}
		return n.knit(t)
	}
	return []showing{
		{"new", of("lantern-band", 4, nil), 5, SheetOptions{}},
		{"no catches", of("lantern-band", 20, nil), 22, SheetOptions{}},
		{"known", of("lantern-band", 15, nil), 16, SheetOptions{}},
		{"moved", movedPiece(t), 8, SheetOptions{Why: true}},
		{"flat", of("pier-panel", 3, nil), 4, SheetOptions{Seats: true}},
		{"shaped", of("tide-yoke", 0, nil), shapedRow(of("tide-yoke", 0, nil)), SheetOptions{}},
		{"wide", of("night-sea", 0, nil), 10, SheetOptions{}},
		{"mitten", of("mooring-mitten", 0, nil), 1, SheetOptions{}},
		{"mirror", of("lantern-band", 4, func(e *session.CastOn) {
			e.Mirror, e.Grip = true, session.Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: session.DominantPattern}
		}), 5, SheetOptions{}},
	}
}

// movedPiece has a catch of row 7 made two stitches late.
func movedPiece(t testing.TB) *session.Piece {
	k := examplesKnitted(t)["lantern-band"]
	k.rows, k.stray = 6, 0
	p := k.knit(t)
	used, err := p.Made(session.Otherwise{Moved: "4:6"})
	require.NoError(t, err)
	kind, payload := session.Encode(&session.RowKnit{Row: 7, Shown: p.Shown(7), Used: used})
	records := append(p.State.Records(), session.Record{Seq: p.State.LastSeq + 1, Kind: kind, At: evening, Payload: payload})
	p.State, err = session.Fold(records)
	require.NoError(t, err)
	return p
}

func shapedRow(p *session.Piece) int {
	for row := 1; row <= p.Rows(); row++ {
		if len(p.Sheet(row).Shaping) > 0 {
			return row
		}
	}
	return 1
}

func TestSheetGolden(t *testing.T) {
	all := showings(t)
	for i, look := range looks {
		for _, width := range widths {
			var out bytes.Buffer
			for _, s := range all {
				fmt.Fprintf(&out, "-- %s --\n", s.about)
				require.NoError(t, Sheet(&out, s.piece.Sheet(s.row), lookOf(i, width), s.options))
			}
			golden(t, fmt.Sprintf("sheet-%s-%d.txt", look.name, width), out.Bytes())
		}
	}
}

func TestStandingGolden(t *testing.T) {
	now := evening.Add(75 * time.Hour)
	for i, look := range looks {
		for _, width := range widths {
			var out bytes.Buffer
			for _, s := range showings(t) {
				fmt.Fprintf(&out, "-- %s --\n", s.about)
				require.NoError(t, Standing(&out, s.piece.Standing(), now, lookOf(i, width)))
			}
			golden(t, fmt.Sprintf("standing-%s-%d.txt", look.name, width), out.Bytes())
		}
	}
}

// golden compares with a file of testdata, or writes it with -update.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o600))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err, "go test -update writes it")
	assert.Equal(t, string(want), string(got), name)
}

var colorCodes = regexp.MustCompile("\x1b\\[[0-9;]*m")

// Every line fits the width, measured without its colors, and nothing but colors
// tells a look with them from one without.
func TestSheetsFitAndColorsAddNothing(t *testing.T) {
	for _, s := range showings(t) {
		for _, width := range widths {
			var bare string
			for i := range slices.Backward(looks) {
				var out bytes.Buffer
				require.NoError(t, Sheet(&out, s.piece.Sheet(s.row), lookOf(i, width), s.options))
				text := colorCodes.ReplaceAllString(out.String(), "")
				for _, line := range strings.Split(text, "\n") {
					assert.LessOrEqual(t, paint.Width(line), width, "%s: %q", s.about, line)
				}
				switch looks[i].name {
				case "none":
					bare = text
				case "truecolor", "256", "16":
					assert.Equal(t, bare, text, s.about)
				}
			}
		}
	}
}

// A row without catches takes three lines: the glance, its place, its strip.
func TestRowWithoutCatchesTakesThreeLines(t *testing.T) {
	k := examplesKnitted(t)["lantern-band"]
	k.rows = 2
	p := k.knit(t)
	for _, look := range []Look{lookOf(0, 200), lookOf(3, 200)} {
		var out bytes.Buffer
		require.NoError(t, Sheet(&out, p.Sheet(3), look, SheetOptions{}))
		assert.Equal(t, 3, strings.Count(out.String(), "\n"), out.String())
	}
}

// rebuilt is what a reader makes of a printed sheet.
type rebuilt struct {
	runs    []int // yarns of one repeat, stitch by stitch
	repeats int
	marks   []session.Mark
}

// TestRowIsRebuiltFromItsText reads sheets as a knitter would, from their lines alone,
// and finds the row: runs, direction, repeats, catches.
func TestRowIsRebuiltFromItsText(t *testing.T) {
	var pieces []*session.Piece
	for _, s := range showings(t) {
		pieces = append(pieces, s.piece)
	}
	for seed := range uint64(60) {
		pieces = append(pieces, randomKnitting(seed).knit(t))
	}
	for _, p := range pieces {
		for row := 1; row <= p.Rows(); row++ {
			s := p.Sheet(row)
			for _, width := range widths {
				requireRebuilt(t, p, s, width)
			}
		}
	}
}

func requireRebuilt(t *testing.T, p *session.Piece, s *session.Sheet, width int) {
	t.Helper()
	want := rebuilt{repeats: s.Repeats, marks: p.Shown(s.Row)}
	for _, st := range s.Order {
		want.runs = append(want.runs, st.Yarn)
	}
	var text, plain bytes.Buffer
	require.NoError(t, Sheet(&text, s, lookOf(3, width), SheetOptions{}))
	require.NoError(t, Sheet(&plain, s, lookOf(5, width), SheetOptions{}))
	requireSame(t, want, readText(t, s, text.String()), text.String())
	requireSame(t, want, readPlain(t, s, plain.String()), plain.String())
	way := "from right to left"
	if s.FromLeft {
		way = "from left to right"
	}
	require.Contains(t, strings.Join(strings.Fields(plain.String()), " "), "he chart reads "+way)
	requireStrip(t, s, text.String())
}

func requireSame(t *testing.T, want, got rebuilt, text string) {
	t.Helper()
	require.Equal(t, want.runs, got.runs, text)
	require.Equal(t, want.repeats, got.repeats, text)
	require.ElementsMatch(t, want.marks, got.marks, text)
}

var (
	glanceRun  = regexp.MustCompile(`^(\d+) ([a-z][a-z ]*?)(?: \((.*)\))?$`)
	glanceMark = regexp.MustCompile(`^([a-z][a-z ]*) (?:on|before) (.*)$`)
)

// readText reads the lines of the glance and of the repeats that differ.
func readText(t *testing.T, s *session.Sheet, text string) rebuilt {
	t.Helper()
	prefix := fmt.Sprintf("%d: ", s.Row)
	var glance, differ string
	for _, line := range strings.Split(text, "\n") {
		switch {
		case strings.HasPrefix(line, prefix):
			glance += strings.TrimPrefix(line, prefix) + " "
		case strings.HasPrefix(line, "   "): // the place line comes before all else that is set in
			differ += strings.TrimSpace(line) + " "
		case strings.HasPrefix(line, s.Piece+","):
			return rebuild(t, s, strings.TrimSpace(glance), strings.TrimSpace(differ))
		}
	}
	t.Fatalf("no place line in:\n%s", text)
	return rebuilt{}
}

var ofRepeats = regexp.MustCompile(`,? ?x (\d+)$`)

func rebuild(t *testing.T, s *session.Sheet, glance, differ string) rebuilt {
	t.Helper()
	r := rebuilt{repeats: 1}
	if m := ofRepeats.FindStringSubmatch(glance); m != nil {
		r.repeats, _ = strconv.Atoi(m[1])
		glance = strings.TrimSuffix(glance, m[0])
	}
	var common []session.Mark
	for _, piece := range outerCommas(glance) {
		m := glanceRun.FindStringSubmatch(strings.TrimSpace(piece))
		require.NotNil(t, m, "%q in %q", piece, glance)
		n, _ := strconv.Atoi(m[1])
		common = append(common, marksOf(t, s, m[3], len(r.runs))...)
		r.runs = append(r.runs, slices.Repeat([]int{yarnOf(t, s, m[2])}, n)...)
	}
	r.marks = spread(t, s, r, common, differ)
	return r
}

// outerCommas parts a text at the commas outside of brackets.
func outerCommas(text string) []string {
	var parts []string
	depth, from := 0, 0
	for i, c := range text {
		switch c {
		case '(':
			depth++
		case ')':
			depth--
		case ',':
			if depth == 0 {
				parts, from = append(parts, text[from:i]), i+1
			}
		}
	}
	return append(parts, text[from:])
}

func yarnOf(t *testing.T, s *session.Sheet, name string) int {
	t.Helper()
	for i, y := range s.Yarns {
		if y.Name == name {
			return i
		}
	}
	t.Fatalf("no yarn %q", name)
	return 0
}

// marksOf reads "oat on 3, 9*; kelp on 4", stitches counted on from a stitch.
func marksOf(t *testing.T, s *session.Sheet, text string, from int) []session.Mark {
	t.Helper()
	var marks []session.Mark
	for _, part := range strings.Split(text, "; ") {
		if part == "" {
			continue
		}
		m := glanceMark.FindStringSubmatch(part)
		require.NotNil(t, m, part)
		for _, n := range strings.Split(m[2], ", ") {
			stitch, err := strconv.Atoi(strings.TrimSuffix(n, session.MovedSign))
			require.NoError(t, err)
			marks = append(marks, session.Mark{Stitch: from + stitch, Yarn: yarnOf(t, s, m[1])})
		}
	}
	return marks
}

// spread puts the common catches into every repeat and then what differs.
func spread(t *testing.T, s *session.Sheet, r rebuilt, common []session.Mark, differ string) []session.Mark {
	t.Helper()
	var marks []session.Mark
	width := len(r.runs)
	for rep := range r.repeats {
		for _, m := range common {
			marks = append(marks, session.Mark{Stitch: m.Stitch + rep*width, Yarn: m.Yarn})
		}
	}
	for _, line := range strings.Split(differ, ", counted in the repeat") {
		names, words, ok := strings.Cut(strings.TrimSpace(line), ": ")
		if !ok {
			continue
		}
		not, also, _ := strings.Cut(words, "also ")
		not = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSuffix(not, ", "), "not "), ", ")
		for _, rep := range repeatsNamed(t, names, r.repeats) {
			for _, m := range marksOf(t, s, not, rep*width) {
				marks = slices.DeleteFunc(marks, func(o session.Mark) bool { return o == m })
			}
			marks = append(marks, marksOf(t, s, also, rep*width)...)
		}
	}
	return marks
}

func repeatsNamed(t *testing.T, names string, repeats int) []int {
	t.Helper()
	var list []int
	for _, name := range strings.Split(strings.ReplaceAll(names, " and ", ", "), ", ") {
		switch name {
		case "first repeat":
			list = append(list, 0)
		case "last repeat":
			list = append(list, repeats-1)
		default:
			n, err := strconv.Atoi(strings.TrimPrefix(name, "repeat "))
			require.NoError(t, err, names)
			list = append(list, n-1)
		}
	}
	return list
}

var plainRun = regexp.MustCompile(`^(\d+) ([a-z][a-z ]*?)((?:, (?:catch|moved) .*)?)$`)

// readPlain reads the sentences between the first, which names the row, and the one
// that tells the direction.
func readPlain(t *testing.T, s *session.Sheet, text string) rebuilt {
	t.Helper()
	r := rebuilt{repeats: 1}
	var common []session.Mark
	differ := ""
	sentences := strings.Split(strings.Join(strings.Fields(text), " "), ". ")
	for _, sentence := range sentences[1:] {
		if strings.Contains(sentence, "he chart reads") {
			break
		}
		if m := regexp.MustCompile(`^Do this (\d+) times$`).FindStringSubmatch(sentence); m != nil {
			r.repeats, _ = strconv.Atoi(m[1])
			continue
		}
		if strings.HasSuffix(sentence, "counted in the repeat") {
			sentence = strings.ReplaceAll(sentence, fmt.Sprintf(" (moved to fit the %s below)", s.Word()), "")
			differ += strings.ToLower(sentence[:1]) + sentence[1:] + " "
			continue
		}
		m := plainRun.FindStringSubmatch(sentence)
		if m == nil {
			continue // how far the row is worked
		}
		n, _ := strconv.Atoi(m[1])
		for _, c := range regexp.MustCompile(`catch ([a-z ]+) (?:on|before) stitch (\d+)`).FindAllStringSubmatch(m[3], -1) {
			at, _ := strconv.Atoi(c[2])
			common = append(common, session.Mark{Stitch: len(r.runs) + at, Yarn: yarnOf(t, s, c[1])})
		}
		r.runs = append(r.runs, slices.Repeat([]int{yarnOf(t, s, m[2])}, n)...)
	}
	r.marks = spread(t, s, r, common, strings.TrimSpace(differ))
	return r
}

// requireStrip joins the pieces of the strip and finds the chart row, and the arrow on
// the side where the row begins.
func requireStrip(t *testing.T, s *session.Sheet, text string) {
	t.Helper()
	var pieces []string
	arrows := 0
	label := regexp.MustCompile(fmt.Sprintf(`^ *%d (→ |  )?([.xk·#a-z]+?)( ←)?$`, s.Row))
	for _, line := range strings.Split(text, "\n") {
		if m := label.FindStringSubmatch(line); m != nil {
			pieces = append(pieces, m[2])
			if m[1] == "→ " {
				arrows++
				require.True(t, s.FromLeft && len(pieces) == 1, text)
			}
			if m[3] != "" {
				arrows++
				require.True(t, !s.FromLeft && len(pieces) == 1, text)
			}
		}
	}
	if len(pieces) == 0 {
		require.Len(t, s.Runs, 1, text)
		return
	}
	require.Equal(t, 1, arrows, text)
	if !s.FromLeft {
		slices.Reverse(pieces)
	}
	require.Equal(t, strings.ReplaceAll(symbols(s.Yarns, s.Strips.Row), " ", "·"), strings.Join(pieces, ""), text)
}
