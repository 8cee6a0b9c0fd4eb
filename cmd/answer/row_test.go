package answer

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/document"
	"strandwise/cmd/knitted"
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

func lookOf(i, width int) paint.Look {
	l := looks[i]
	return paint.Look{Paint: paint.New(l.depth), Marks: paint.ChooseMarks(l.marks, os.Getenv), Width: width, Plain: l.plain}
}

// showing is a sheet worth looking at.
type showing struct {
	about   string
	piece   *session.Piece
	row     int
	options RowOptions
}

// showings are rows of the examples: one with catches and a new motion, one without
// catches, moved catches, a wrong-side row from the left, shaping in three yarns, a
// wide chart, and a row for a mirror knitter who twists.
func showings(t testing.TB) []showing {
	k := knitted.Examples(t)
	of := func(name string, rows int, change func(*session.CastOn)) *session.Piece {
		n := k[name]
		n.Rows, n.Stray = rows, 0
		if change != nil {
			n.Setup.Grip = session.Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: session.DominantPattern}
			change(&n.Setup)
		}
		return n.Knit(t)
	}
	return []showing{
		{"new", of("lantern-band", 4, nil), 5, RowOptions{}},
		{"no catches", of("lantern-band", 20, nil), 22, RowOptions{}},
		{"known", of("lantern-band", 15, nil), 16, RowOptions{}},
		{"moved", movedPiece(t), 8, RowOptions{Why: true}},
		{"flat", of("pier-panel", 3, nil), 4, RowOptions{YarnPlaces: true}},
		{"shaped", of("tide-yoke", 0, nil), shapedRow(of("tide-yoke", 0, nil)), RowOptions{}},
		{"wide", of("night-sea", 0, nil), 10, RowOptions{}},
		{"mitten", of("mooring-mitten", 0, nil), 1, RowOptions{}},
		{"alike", alikePiece(t), 1, RowOptions{Alike: "the same color on this terminal: oat (.) and shell (x); go by the symbols"}},
		{"mirror", of("lantern-band", 4, func(e *session.CastOn) {
			e.Mirror, e.Grip = true, session.Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: session.DominantPattern}
		}), 5, RowOptions{}},
	}
}

// alikePiece is in two yarns that 16 colors cannot tell apart, and a third.
func alikePiece(t testing.TB) *session.Piece {
	k := knitted.Examples(t)["lantern-band"]
	k.Rows, k.Chart = 0, "yarn: . oat #EFE6D2\nyarn: x shell #E8EEF0\nyarn: k fjord #1F4E79\nrows:\n..xx.kkkk.xx\nx.........x.\n"
	return k.Knit(t)
}

// movedPiece has a catch of row 7 made two stitches early.
func movedPiece(t testing.TB) *session.Piece {
	k := knitted.Examples(t)["lantern-band"]
	k.Rows, k.Stray = 6, 0
	p := k.Knit(t)
	changes, err := p.Otherwise(session.Otherwise{Moved: "a-2"})
	require.NoError(t, err)
	kind, payload := session.Encode(p.Knit(changes))
	records := append(p.State.Records, session.Record{Seq: p.State.LastSeq + 1, Kind: kind, At: knitted.Evening, Payload: payload})
	p.State, err = session.Fold(records)
	require.NoError(t, err)
	return p
}

func shapedRow(p *session.Piece) int {
	for row := 1; row <= p.Rows(); row++ {
		if !p.Sheet(row).Plain() {
			return row
		}
	}
	return 1
}

func TestRowGolden(t *testing.T) {
	all := showings(t)
	for i, look := range looks {
		for _, width := range widths {
			var out bytes.Buffer
			for _, s := range all {
				fmt.Fprintf(&out, "-- %s --\n", s.about)
				require.NoError(t, document.Write(&out, NewRow(s.piece.Sheet(s.row), s.options).Document(), lookOf(i, width)))
			}
			golden(t, fmt.Sprintf("row-%s-%d.txt", look.name, width), out.Bytes())
		}
	}
}

func TestStandingGolden(t *testing.T) {
	now := knitted.Evening.Add(75 * time.Hour)
	for i, look := range looks {
		for _, width := range widths {
			var out bytes.Buffer
			for _, s := range showings(t) {
				fmt.Fprintf(&out, "-- %s --\n", s.about)
				require.NoError(t, document.Write(&out, NewStanding(s.piece, now).Document(), lookOf(i, width)))
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
func TestRowsFitAndColorsAddNothing(t *testing.T) {
	for _, s := range showings(t) {
		for _, width := range widths {
			var bare string
			for i := range slices.Backward(looks) {
				var out bytes.Buffer
				require.NoError(t, document.Write(&out, NewRow(s.piece.Sheet(s.row), s.options).Document(), lookOf(i, width)))
				text := colorCodes.ReplaceAllString(out.String(), "")
				for _, line := range strings.Split(text, "\n") {
					if looks[i].plain {
						break // sentences are not broken
					}
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
	k := knitted.Examples(t)["lantern-band"]
	k.Rows = 2
	p := k.Knit(t)
	for _, look := range []paint.Look{lookOf(0, 200), lookOf(3, 200)} {
		var out bytes.Buffer
		require.NoError(t, document.Write(&out, NewRow(p.Sheet(3), RowOptions{}).Document(), look))
		assert.Equal(t, 3, strings.Count(out.String(), "\n"), out.String())
	}
}
