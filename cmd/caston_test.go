package cmd

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

// inFolder runs the program in a store of its own beside the example charts.
type inFolder struct {
	t      *testing.T
	vars   map[string]string
	charts string
}

func newFolder(t *testing.T) *inFolder {
	t.Helper()
	folder := t.TempDir()
	require.NoError(t, copyCharts(folder))
	return &inFolder{t, map[string]string{"HOME": folder, "LANG": "C.UTF-8"}, folder}
}

func (f *inFolder) run(args ...string) ran {
	f.t.Helper()
	return runMain(f.t, frame.Env{Getenv: fromMap(f.vars)}, args...)
}

// ok runs a command that must go well and gives its answer.
func (f *inFolder) ok(args ...string) string {
	f.t.Helper()
	got := f.run(args...)
	require.Zero(f.t, got.code, got.err)
	return got.out
}

func (f *inFolder) chart(name string) string { return filepath.Join(f.charts, name) }

func TestReadParts(t *testing.T) {
	f := newFolder(t)
	a := newApp(frame.Env{})
	band := f.chart("lantern-band.chart")
	parts, err := stored.ReadParts(a, []string{".:3", band, band + "@12", band + "@4x2", "x:1"})
	require.NoError(t, err)
	type short struct {
		name                 string
		repeats, times, rows int
		plain                rune
	}
	var got []short
	for _, p := range parts.Refs {
		got = append(got, short{p.Name, p.Repeats, p.Times, p.Rows, p.Plain})
	}
	assert.Equal(t, []short{
		{"plain fjord", 0, 0, 3, '.'},
		{"Lantern band", 1, 1, 22, 0},
		{"Lantern band", 12, 1, 22, 0},
		{"Lantern band", 4, 2, 22, 0},
		{"plain oat", 0, 0, 1, 'x'},
	}, got)
	assert.Equal(t, parts.Refs[1].Hash, parts.Refs[2].Hash)
}

func TestReadPartOfAFileWithoutTitleOrEnding(t *testing.T) {
	f := newFolder(t)
	name := f.chart("pier at dusk.v2")
	require.NoError(t, os.WriteFile(name, []byte("yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nrows:\nx.x.\n"), 0o600))
	parts, err := stored.ReadParts(newApp(frame.Env{}), []string{name + "@3"})
	require.NoError(t, err)
	assert.Equal(t, "pier at dusk", parts.Refs[0].Name)
}

func TestGripOfACastOn(t *testing.T) {
	for name, c := range map[string]struct {
		flags gripFlags
		vars  map[string]string
		want  session.Grip
	}{
		"defaults":                           {want: session.Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: "pattern"}},
		"flags":                              {gripFlags{Hold: "one-at-a-time", Carry: "rotating", Method: "weave", Dominant: "background"}, nil, session.Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "weave", Dominant: "background"}},
		"the method that goes with the hold": {gripFlags{Hold: "one-at-a-time", Carry: "rotating"}, nil, session.Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: "pattern"}},
		"settings":                           {gripFlags{}, map[string]string{"STRANDWISE_HOLD": "left-one-finger", "STRANDWISE_METHOD": "twist"}, session.Grip{Hold: "left-one-finger", Carry: "parallel", Method: "twist", Dominant: "pattern"}},
		"a carry of the settings gives way":  {gripFlags{Hold: "two-hands"}, map[string]string{"STRANDWISE_HOLD": "one-at-a-time", "STRANDWISE_CARRY": "rotating"}, session.Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: "pattern"}},
		"a flag goes before a setting":       {gripFlags{Method: "weave"}, map[string]string{"STRANDWISE_METHOD": "twist"}, session.Grip{Hold: "two-hands", Carry: "parallel", Method: "weave", Dominant: "pattern"}},
	} {
		a := newApp(frame.Env{Getenv: fromMap(c.vars)})
		got, err := gripFor(a, c.flags, nil)
		require.NoError(t, err, name)
		assert.Equal(t, c.want, got, name)
	}
	_, err := gripFor(newApp(frame.Env{}), gripFlags{Hold: "two-hands", Carry: "rotating"}, nil)
	assert.ErrorContains(t, err, "cannot go with a rotating carry")
}

func TestCastOnSaysWhereTheLimitComesFrom(t *testing.T) {
	for flags, want := range map[string]string{
		"":                               "Limit: 5 stitches, the usual one where no gauge is given",
		"--gauge=24x26/10cm":             "Limit: 6 stitches, from the gauge 24x26/10cm, for a general item",
		"--gauge=24x26/10cm --item=baby": "Limit: 3 stitches, from the gauge 24x26/10cm, for a baby",
		"--limit=4":                      "Limit: 4 stitches, as given",
		"--limit=2cm --gauge=20/10cm":    "Limit: 4 stitches, as given",
	} {
		f := newFolder(t)
		args := append([]string{"cast-on", "hat", f.chart("lantern-band.chart@2")}, strings.Fields(flags)...)
		assert.Contains(t, f.ok(args...), want)
	}
}

func TestCastOnShowsCautionsForFingersAndToes(t *testing.T) {
	f := newFolder(t)
	out := f.ok("cast-on", "mitten", f.chart("mooring-mitten.chart"), "--gauge", "20x22/4in", "--item", "hands-feet", "--width", "200")
	assert.Contains(t, out, "no spacing is offered as enough")
	assert.NotContains(t, f.ok("show", "--width", "200"), "no spacing is offered as enough", "the cast-on stands right above")
	f.ok("note", "the needles are short")
	assert.Contains(t, f.ok("show", "--width", "200"), "no spacing is offered as enough")
	f.ok("knit", "--to", "3")
	assert.NotContains(t, f.ok("show", "--width", "200"), "no spacing is offered as enough", "not on every row")
}

// A cast-on that is refused makes no store.
func TestRefusedCastOnMakesNoStore(t *testing.T) {
	f := newFolder(t)
	for _, args := range [][]string{
		{f.chart("lantern-band.chart"), "--gauge", "none"},
		{f.chart("lantern-band.chart"), "--hold", "three-hands"},
		{f.chart("no.chart")},
		{"q:3", f.chart("lantern-band.chart")},
	} {
		got := f.run(append([]string{"cast-on", "hat"}, args...)...)
		assert.NotZero(t, got.code)
		assert.Contains(t, got.err, "nothing was saved")
	}
	_, err := os.Stat(filepath.Join(f.charts, ".local"))
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestCastOnWarnsOfYarnsHardToTellApart(t *testing.T) {
	f := newFolder(t)
	name := f.chart("fog.chart")
	require.NoError(t, os.WriteFile(name, []byte("yarn: . fog #808080\nyarn: x brick #C85A4A\nyarn: o mist #828282\nrows:\nx.o.\n"), 0o600))
	out := f.ok("cast-on", "fog", name, "--width", "200")
	assert.Contains(t, out, "fog: fog and mist are so alike that the pattern may not show")
	assert.Contains(t, out, "are alike in lightness")
	f = newFolder(t)
	name = f.chart("fog.chart")
	require.NoError(t, os.WriteFile(name, []byte("yarn: . navy #101840\nyarn: x ink #111941\nrows:\nx.\n"), 0o600))
	f.vars["TERM"] = "xterm"
	assert.Contains(t, f.ok("cast-on", "fog", name, "--color", "always", "--width", "200"), "The same color on this terminal: navy (.) and ink (x)")
}

// A quiet cast-on leaves out the limit, the hold and the plan, never a caution.
func TestQuietCastOnKeepsTheCautions(t *testing.T) {
	f := newFolder(t)
	for _, item := range []string{"baby", "hands-feet"} {
		said := f.ok("cast-on", item, f.chart("mooring-mitten.chart"), "--item", item, "--gauge", "22x24/10cm", "--quiet")
		for _, want := range []string{"injured babies' fingers and toes", "medical help at once", "Local rules apply", "numbness: stop"} {
			assert.Contains(t, said, want)
		}
		for _, dropped := range []string{"is cast on", "Limit:", "Hold:", "Catches:", "Plan:", "next:"} {
			assert.NotContains(t, said, dropped)
		}
	}
	assert.Contains(t, f.ok("pieces", "copy", "second", "--quiet"), "injured babies'")
}

// floatsOf runs floats --json on a chart given on standard input.
func floatsOf(t *testing.T, text string, args ...string) answer.Floats {
	t.Helper()
	got := runMain(t, stdin(text), append([]string{"floats", "-", "--json"}, args...)...)
	require.Zero(t, got.code, got.err)
	var body answer.Floats
	require.NoError(t, json.Unmarshal([]byte(got.out), &body))
	return body
}

const twoYarns = "yarn: A oat #EFE6D2\nyarn: B fjord #1F4E79\n"

func TestFloatOverTheStart(t *testing.T) {
	// Arithmetic: a round of 12, yarn B only on stitches 3 and 4 of this round and
	// the next: 8 behind the rest of the lower and 2 of the upper.
	body := floatsOf(t, twoYarns+"rows:\nAAAAAAAABBAA\nAAAAAAAABBAA\n", "--limit", "5")
	assert.Contains(t, body.Floats, answer.Float{Row: 1, Stitch: 5, Length: 10, Yarn: "B", Kind: "over-start"})
}

func TestFloatsOfARoundOfRepeats(t *testing.T) {
	// Common practice, no source: row A2 B7 A5 B7 A2, four times round, limit 4: A
	// floats of 7 and B floats of 5 are caught, A twice and B once in each repeat,
	// those of 4 over each repeat never.
	body := floatsOf(t, twoYarns+"rows:\nAABBBBBBBAAAAABBBBBBBAA\n", "--repeats", "4", "--limit", "4")
	lengths := map[string]map[int]int{"A": {}, "B": {}}
	for _, f := range body.Floats {
		lengths[f.Yarn][f.Length]++
	}
	assert.Equal(t, map[string]map[int]int{"A": {7: 8}, "B": {5: 4, 4: 3}}, lengths)
	caught := map[string]int{}
	for _, c := range body.Catches {
		caught[c.Yarn]++
	}
	assert.Equal(t, 4, caught["B"])
	assert.Equal(t, 8, caught["A"])
	assert.Empty(t, body.Rests)
}

func TestFloatsOfRestingYarns(t *testing.T) {
	body := floatsOf(t, twoYarns+"rows:\nAABAA\nAAAAA\nAABAA\n", "--flat", "--rest", "1")
	assert.Equal(t, []answer.Rest{{Yarn: "B", FromRow: 2, ToRow: 2, Cut: false}}, body.Rests)
	kinds := map[string]bool{}
	for _, f := range body.Floats {
		kinds[f.Kind] = true
	}
	assert.True(t, kinds["to-edge"] && kinds["across"] && kinds["from-edge"])
	body = floatsOf(t, twoYarns+"rows:\nAABAA\nAAAAA\nAABAA\n", "--flat", "--rest", "0")
	assert.Equal(t, []answer.Rest{{Yarn: "B", FromRow: 2, ToRow: 2, Cut: true}}, body.Rests)
}

func TestLimitOfATrial(t *testing.T) {
	// Common practice (about an inch), arithmetic.
	for gauge, limit := range map[string]int{"20/4in": 5, "24/4in": 6, "28/4in": 7, "22/4in": 5, "18/4in": 4} {
		assert.Equal(t, limit, floatsOf(t, twoYarns+"rows:\nAB\n", "--gauge", gauge).Limit, gauge)
	}
	assert.Equal(t, 3, floatsOf(t, twoYarns+"rows:\nAB\n", "--gauge", "20/4in", "--item", "baby").Limit)
	assert.Equal(t, 5, floatsOf(t, twoYarns+"rows:\nAB\n").Limit)
}

func TestTrialsThatCannotBe(t *testing.T) {
	chart := twoYarns + "rows:\nAB\n"
	for _, args := range [][]string{
		{"--repeats", "0"},
		{"--times", "-1"},
		{"--rest", "-1"},
		{"--repeats", "2000001"},
		{"--repeats", "2000", "--times", "2000"},
		{"--limit", "0"},
		{"--limit", "2cm"},
		{"--limit", "x"},
		{"--gauge", "22"},
		{"--gauge", "0/10cm"},
		{"--item", "baby"},
		{"--item", "glove"},
		{"--method", "knot"},
	} {
		got := runMain(t, stdin(chart), append([]string{"floats", "-"}, args...)...)
		assert.Equal(t, 2, got.code, args)
		assert.Contains(t, got.err, "\n  try: ", args)
		assert.Empty(t, got.out)
	}
}

// stdin is the world with text on standard input.
func stdin(text string) frame.Env { return frame.Env{In: strings.NewReader(text)} }
