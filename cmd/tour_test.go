package cmd

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/cmd/paint"
	"strandwise/examples"
	"strandwise/floats"
)

// runTourAt runs the tour with a home and a folder for temporary files of its own, and
// holds that nothing of it is left.
func runTourAt(t *testing.T, args ...string) ran {
	t.Helper()
	home, temporary := t.TempDir(), t.TempDir()
	t.Setenv("TMPDIR", temporary)
	env := frame.Env{Getenv: fromMap(map[string]string{"HOME": home, "LANG": "C.UTF-8"})}
	got := runMain(t, env, append([]string{"tour"}, args...)...)
	for _, folder := range []string{home, temporary} {
		left, err := os.ReadDir(folder)
		require.NoError(t, err)
		assert.Empty(t, left, folder)
	}
	return got
}

func TestTour(t *testing.T) {
	start := time.Now()
	got := runTourAt(t)
	assert.Less(t, time.Since(start), 2*time.Second)
	require.Zero(t, got.code, got.err)
	assert.Empty(t, got.err)
	for _, line := range strings.Split(got.out, "\n") {
		assert.LessOrEqual(t, paint.Width(line), 80, line)
	}
	for _, said := range []string{
		"$ strandwise cast-on", "weave oat, left hand:", "9 fjord (3, catch a, 5) in every repeat", "moved to fit",
		"ripped back: 1 round", "you are on round 7 of 22; last worked 3 days ago", "$ strandwise review",
	} {
		assert.Contains(t, got.out, said)
	}
	assert.NotContains(t, got.out, os.TempDir())
}

// tourCatch is a catch of a printed row: a stitch of the repeat.
type tourCatch struct{ row, stitch int }

var (
	tourGlance = regexp.MustCompile(`(?m)^(\d+)(?:, \d+ times)?: (.*)$`)
	tourRun    = regexp.MustCompile(`(\d+) (?:oat|fjord)(?: \(([^)]*)\))?`)
)

// printedCatches reads the rows that knit printed off the tour's text. A row that was made
// to fit another way of knitting than planned is left out.
func printedCatches(t *testing.T, text string) (catches []tourCatch, rows map[int]bool) {
	t.Helper()
	glance := map[int]string{}
	for _, block := range strings.Split(text, "\n$ strandwise knit")[1:] {
		block, _, _ = strings.Cut(block, "\n$ ")
		for _, m := range tourGlance.FindAllStringSubmatch(block, -1) {
			row, _ := strconv.Atoi(m[1])
			glance[row] += " " + m[2]
		}
	}
	rows = map[int]bool{}
	for row, runs := range glance {
		if strings.Contains(runs, "*") {
			continue
		}
		rows[row] = true
		at := 0
		for _, m := range tourRun.FindAllStringSubmatch(runs, -1) {
			done := at
			for _, item := range strings.Split(m[2], ", ") {
				if n, err := strconv.Atoi(item); err == nil {
					done += n
				} else if item != "" {
					done++
					catches = append(catches, tourCatch{row, done})
				}
			}
			n, _ := strconv.Atoi(m[1])
			at += n
		}
	}
	return catches, rows
}

// The rows of the tour carry exactly the catches of the plan for the same chart.
func TestTourShowsThePlan(t *testing.T) {
	got := runTourAt(t)
	require.Zero(t, got.code, got.err)
	printed, rows := printedCatches(t, got.out)
	require.Equal(t, map[int]bool{5: true, 6: true, 7: true}, rows)

	text, err := examples.Files.ReadFile(strings.TrimPrefix(tourChart, "example:") + ".chart")
	require.NoError(t, err)
	c, err := chart.Parse(tourChart, text)
	require.NoError(t, err)
	f, err := floats.Lay([]floats.Part{{Name: "band", Chart: c, Repeats: 2, Times: 1}}, floats.Work{})
	require.NoError(t, err)
	gauge, err := floats.ParseGauge("20x22/4in")
	require.NoError(t, err)
	plan, err := floats.MakePlan(context.Background(), f, floats.Task{Limit: gauge.Limit(floats.Items[0]), RestLimit: floats.DefaultRestLimit})
	require.NoError(t, err)
	var planned []tourCatch
	for _, k := range plan.Catches {
		if row := k.Row + 1; rows[row] && k.Stitch <= c.Width() {
			planned = append(planned, tourCatch{row, k.Stitch})
		}
	}
	assert.NotEmpty(t, planned)
	assert.ElementsMatch(t, planned, printed)
	for _, k := range plan.Catches {
		if rows[k.Row+1] && k.Stitch > c.Width() {
			assert.Contains(t, planned, tourCatch{k.Row + 1, k.Stitch - c.Width()}, "x 2 is true")
		}
	}
}

func TestTourPassesOnHowAnswersLook(t *testing.T) {
	got := runTourAt(t, "--plain", "--width", "60", "--ascii")
	require.Zero(t, got.code, got.err)
	assert.Contains(t, got.out, "11 fjord: 5, catch A on the next, 5.")
	assert.NotContains(t, got.out, "▲")
}

func TestTourLeavesTheOwnStoreAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own.store")
	env := frame.Env{Getenv: fromMap(map[string]string{"HOME": t.TempDir(), "STRANDWISE_STORE": path, "STRANDWISE_PIECE": "my-hat", "STRANDWISE_HOLD": "one-at-a-time"})}
	got := runMain(t, env, "tour")
	require.Zero(t, got.code, got.err)
	_, err := os.Stat(path)
	assert.ErrorIs(t, err, os.ErrNotExist)
	assert.Contains(t, got.out, "Hold: two-hands")
}
