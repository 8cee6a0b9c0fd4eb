package follow

import (
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
	"pgregory.net/rapid"

	"strandwise/cmd/answer"
	"strandwise/cmd/paint"
	"strandwise/session"
)

var update = flag.Bool("update", false, "write the golden files anew")

var codes = regexp.MustCompile("\x1b\\[[0-9;]*m")

func lookOf(depth paint.Depth, marks string, width int, plain bool) paint.Look {
	return paint.Look{Paint: paint.New(depth), Marks: marksOf(marks), Width: width, Plain: plain}
}

func marksOf(which string) paint.Marks {
	return paint.ChooseMarks(which, func(string) string { return "" })
}

// drawsWell holds that the screen fits whatever its size.
func drawsWell(t *rapid.T, s State) {
	size := rapid.SampledFrom([][2]int{{40, 20}, {80, 24}, {200, 50}, {20, 4}, {20, 1}}).Draw(t, "size")
	look := lookOf(paint.None, paint.Unicode, size[0], false)
	fits(t, s.Screen(look, size[1]), size[0], size[1])
}

func fits(t require.TestingT, screen Screen, width, height int) {
	require.Len(t, screen.Lines, height)
	for _, line := range screen.Lines {
		require.NotContains(t, line, "\n")
		require.LessOrEqual(t, paint.Width(codes.ReplaceAllString(line, "")), width, "%q", line)
	}
	if screen.Typing {
		require.True(t, screen.Row < height && screen.Column < width)
	}
}

// scene is a moment of a sitting that was looked at.
type scene struct {
	name string
	at   func(testing.TB) State
}

var scenes = []scene{
	{"row", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{}, twelve)
		k.knit(4)
		return k.s
	}},
	{"known motion, a double press", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{}, twelve)
		k.knit(9)
		k.press(time.Second, Char(" "))
		return k.s
	}},
	{"looking back", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{}, twelve)
		k.knit(9)
		k.press(time.Second, Key{Name: Left})
		return k.s
	}},
	{"another catch", func(t testing.TB) State {
		k := exampleSitting(t, "night-sea", Options{}, nil)
		k.knit(2)
		k.press(time.Second, chars("cl")...)
		k.press(time.Second, Key{Name: Right})
		k.press(time.Second, chars("rrm")...)
		return k.s
	}},
	{"catches changed", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{}, twelve)
		k.knit(9)
		k.press(time.Second, chars("cl")...)
		k.press(time.Second, Key{Name: Enter})
		return k.s
	}},
	{"run", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{By: ByRun}, twelve)
		for k.state().Row < 9 {
			k.press(guard, Char(" "))
		}
		k.press(guard, Char(" "), Char(" "), Char(" "))
		return k.s
	}},
	{"repeat", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{By: ByRepeat}, twelve)
		for k.state().Row < 9 {
			k.press(guard, Char(" "))
		}
		k.press(guard, chars("  cm")...)
		k.press(guard, Key{Name: Enter})
		return k.s
	}},
	{"repeat of a block", func(t testing.TB) State {
		k := sittingOf(t, lights, Options{By: ByRepeat}, panels)
		for k.state().Row < 1 {
			k.press(guard, Char(" "))
		}
		k.press(guard, Char(" "))
		return k.s
	}},
	{"yarns alike in few colors", func(t testing.TB) State {
		return sittingOf(t, "yarn: . oat #EFE6D2\nyarn: x shell #E8EEF0\nyarn: k fjord #1F4E79\nrows:\n.x.x.kkkk.x.\n", Options{}, twelve).s
	}},
	{"shaped run", func(t testing.TB) State {
		k := exampleSitting(t, "tide-yoke", Options{By: ByRun}, nil)
		for k.s.sheet.Plain() || onScreen(k).Word == "" {
			k.press(guard, Char(" "))
		}
		return k.s
	}},
	{"shaped row", func(t testing.TB) State {
		k := exampleSitting(t, "tide-yoke", Options{}, nil)
		for k.s.sheet.Plain() {
			k.knit(1)
		}
		return k.s
	}},
	{"note", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{}, twelve)
		k.knit(2)
		k.press(time.Second, chars("nthe chain at the left lantern is slack")...)
		return k.s
	}},
	{"motions", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{}, twelve)
		k.knit(9)
		k.press(time.Second, Char("m"))
		return k.s
	}},
	{"keys", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{}, twelve)
		k.press(time.Second, Char("?"))
		return k.s
	}},
	{"pause", func(t testing.TB) State {
		k := exampleSitting(t, "tide-yoke", Options{Pause: 30 * time.Minute}, nil)
		k.knit(4)
		k.press(29*time.Minute, Char(" "), Char(" "))
		return k.s
	}},
	{"turns", func(t testing.TB) State {
		k := exampleSitting(t, "lantern-band", Options{}, func(on *session.CastOn) {
			on.Parts[0].Times = 4
			on.Grip = session.Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: "pattern"}
		})
		for len(k.s.tangles) == 0 {
			require.Positive(t, k.state().Next(), "turns came before the end of the piece")
			k.knit(1)
		}
		return k.s
	}},
	{"all worked", func(t testing.TB) State {
		k := sitting(t, Options{})
		k.knit(10)
		return k.s
	}},
}

func twelve(on *session.CastOn) { on.Parts[0].Repeats = 12 }

// looks are the ways a terminal shows things.
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

var sizes = [][2]int{{40, 20}, {80, 24}, {200, 50}}

// TestScreens compares every scene, at every size, in every look, with the screens
// that were looked at and kept.
func TestScreens(t *testing.T) {
	states := make([]State, len(scenes))
	for i, scene := range scenes {
		states[i] = scene.at(t)
	}
	for _, l := range looks {
		for _, size := range sizes {
			name := fmt.Sprintf("%s-%dx%d.txt", l.name, size[0], size[1])
			t.Run(name, func(t *testing.T) {
				look := lookOf(l.depth, l.marks, size[0], l.plain)
				var b strings.Builder
				for i, s := range states {
					fmt.Fprintf(&b, "=== %s\n%s\n", scenes[i].name, strings.Join(shown(t, s, look, size), "\n"))
				}
				golden(t, filepath.Join("testdata", "screens", name), b.String())
			})
		}
	}
}

// shown is what a knitter sees or hears of a state.
func shown(t *testing.T, s State, look paint.Look, size [2]int) []string {
	if look.Plain {
		lines, _ := s.Told(look, nil, true)
		return lines
	}
	screen := s.Screen(look, size[1])
	fits(t, screen, size[0], size[1])
	return screen.Lines
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

func TestScrolling(t *testing.T) {
	at := slices.IndexFunc(scenes, func(s scene) bool { return s.name == "keys" })
	s := scenes[at].at(t)
	look := lookOf(paint.None, paint.ASCII, 40, false)
	first := s.Screen(look, 12)
	assert.Zero(t, first.Top)
	assert.Contains(t, first.Lines[11], "down more")
	assert.NotContains(t, s.Screen(look, 200).Lines[199], "down", "there is no more")
	for range 99 {
		s = s.Press(Key{Name: Down}, evening)
	}
	last := s.Screen(look, 12)
	assert.NotEqual(t, first.Lines, last.Lines)
	s = s.Scrolled(last.Top)
	s = s.Press(Key{Name: Up}, evening)
	assert.Equal(t, last.Top-1, s.Screen(look, 12).Top)
}

// What is to be done next comes before all else: every row of a piece of three yarns shows the row
// for a glance and the strip with all its letters on the smallest screen, without scrolling.
func TestThreeYarnsAreWholeOnTheSmallestScreen(t *testing.T) {
	look := lookOf(paint.None, paint.Unicode, 40, false)
	for _, name := range []string{"tide-yoke", "pier-panel"} {
		k := exampleSitting(t, name, Options{}, nil)
		for range min(40, k.piece().Rows()) {
			screen := k.s.Screen(look, 20)
			text := strings.Join(screen.Lines, "\n")
			cells := 0
			strip := regexp.MustCompile(fmt.Sprintf(`(?m)^ *%d (?:→ |  )?([^\d,:;]*?)(?: ←)?$`, k.s.row))
			for _, m := range strip.FindAllStringSubmatch(text, -1) {
				cells += len([]rune(strings.ReplaceAll(m[1], " ", "")))
			}
			require.Equal(t, len(k.s.sheet.Strips.Row), cells, "%s row %d:\n%s", name, k.s.row, text)
			for _, p := range k.s.sheet.Glances()[0].Phrases {
				require.Contains(t, text, p.Lead)
			}
			for _, c := range k.s.sheet.Distinct() {
				require.Regexp(t, `(?m)^[^a-z\d:;,]*`+strings.ToUpper(c.Letter), text)
			}
			k.knit(1)
		}
	}
}

func TestTheScreenIsFilledWithFinishedRows(t *testing.T) {
	k := exampleSitting(t, "lantern-band", Options{}, twelve)
	k.knit(30)
	for _, size := range sizes {
		screen := k.s.Screen(lookOf(paint.None, paint.Unicode, size[0], false), size[1])
		fits(t, screen, size[0], size[1])
		below, empty := 0, 0
		for _, line := range screen.Lines {
			if regexp.MustCompile(`^ *(30|2[0-9]|1[0-9]) +[.x]( |$)`).MatchString(line) {
				below++
			}
			if line == "" {
				empty++
			}
		}
		assert.LessOrEqual(t, empty, 4, "%v", size)
		assert.GreaterOrEqual(t, below, map[int]int{20: 0, 24: 5, 50: 15}[size[1]], "%v", size)
	}
}

func TestWhatIsWorkedOfTheRowStepsBack(t *testing.T) {
	k := sitting(t, Options{By: ByRun})
	k.press(time.Second, Char(" "))
	for i, c := range k.s.strip(rooms[0], answer.StripOf(k.s.sheet)).Columns {
		assert.Equal(t, i < 5, c.Worked, "the first run of 5, from the right: %d", i)
	}
}

// A word may be longer than a line: that of a note is told when it is undone.
func TestALongWordIsCut(t *testing.T) {
	k := sitting(t, Options{})
	k.press(time.Second, Char("n"), Key{Paste, strings.Repeat("slack", 40)}, Key{Name: Enter}, Char("u"))
	require.Contains(t, k.s.Said().Text, "slackslack")
	fits(t, k.s.Screen(lookOf(paint.True, paint.Unicode, 40, false), 20), 40, 20)
}

// onScreen is the run to work.
func onScreen(k *knitter) session.Run {
	at := k.s.stretches()[k.s.step]
	return k.s.made(at)[at.number-1]
}

// At 40 columns the keys at the foot are whole words, in every mode.
func TestHintsAreWholeWords(t *testing.T) {
	for _, m := range []mode{knitting, choosing, motions} {
		table := bindings(m)
		last := table[len(table)-1]
		assert.True(t, strings.HasSuffix(hints(table, 40), last.brief+" "+last.short), "%v: %q", m, hints(table, 40))
	}
}
