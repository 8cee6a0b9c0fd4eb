package cmd

import (
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/frame"
)

// Two scans of the same yarns differ by a step in every shade; with the yarns of one chart they
// are of the same yarns and can be joined.
func TestScansOfTheSameYarnsCanBeJoined(t *testing.T) {
	folder := t.TempDir()
	yarns := filepath.Join(folder, "yarns.chart")
	require.NoError(t, os.WriteFile(yarns, []byte("yarn: o oat #EFE6D2\nyarn: f fjord #1F4E79\nrows:\nof\n"), 0o600))
	for i, step := range []int{-4, 5} {
		scan := painted(16, 12, func(x, y int) color.Color {
			c := checkered(x*y, i).(color.NRGBA)
			return color.NRGBA{uint8(int(c.R) + step), uint8(int(c.G) + step), uint8(int(c.B) - step), 255}
		})
		name := filepath.Join(folder, []string{"one", "two"}[i])
		require.NoError(t, os.WriteFile(name+".png", asPNG(scan), 0o600))
		got := runMain(t, frame.Env{}, "chart", "import", name+".png", "--yarns-of", yarns, "--quiet")
		require.Zero(t, got.code, got.err)
		text, err := os.ReadFile(name + ".chart")
		require.NoError(t, err)
		c, err := chart.Parse(name, text)
		require.NoError(t, err)
		for row := range 12 {
			for column, cell := range c.Cells(row + 1) {
				want := "oat"
				if ((15-column)*(11-row)+i)%2 == 1 {
					want = "fjord"
				}
				require.Equal(t, want, c.Yarns[cell.Yarn].Name, "%d %d", row, column)
			}
		}
	}
	got := runMain(t, frame.Env{}, "chart", "turn", filepath.Join(folder, "one.chart"), "--stack", filepath.Join(folder, "two.chart"))
	require.Zero(t, got.code, got.err)
	assert.Contains(t, got.out, "yarn: o oat #EFE6D2\nyarn: f fjord #1F4E79\n")
}

// A color near none of the yarns is refused where nobody can be asked, and asked about on a
// terminal; nothing is written unasked.
func TestColorNearNoYarnIsAskedAbout(t *testing.T) {
	folder := t.TempDir()
	yarns, picture, made := filepath.Join(folder, "yarns.chart"), filepath.Join(folder, "p.png"), filepath.Join(folder, "p.chart")
	require.NoError(t, os.WriteFile(yarns, []byte("yarn: o oat #EFE6D2\nyarn: e ember #B03A2E\nrows:\noe\n"), 0o600))
	require.NoError(t, os.WriteFile(picture, asPNG(painted(16, 12, checkered)), 0o600))
	args := []string{"chart", "import", picture, "--yarns-of", yarns}
	got := runMain(t, frame.Env{}, args...)
	assert.Equal(t, 3, got.code)
	assert.Contains(t, got.err, "is near dark blue #1F4E79: the nearest is ember")
	assert.NoFileExists(t, made)
	for _, answer := range []string{"", "no\n"} {
		got = runMain(t, frame.Env{In: strings.NewReader(answer), InTTY: true, ErrTTY: true}, args...)
		assert.Equal(t, 1, got.code)
		assert.Contains(t, got.err, "which is not near")
		assert.NoFileExists(t, made)
	}
	got = runMain(t, frame.Env{In: strings.NewReader("yes\n"), InTTY: true, ErrTTY: true}, args...)
	assert.Zero(t, got.code, got.err)
	assert.FileExists(t, made)
}

// Blank cells are asked about on a terminal, and no answer writes nothing.
func TestBlankCellsAreAskedAbout(t *testing.T) {
	folder := t.TempDir()
	table, made := filepath.Join(folder, "t.csv"), filepath.Join(folder, "t.chart")
	require.NoError(t, os.WriteFile(table, []byte("x;;x\n;x\n"), 0o600))
	on := func(answers string, args ...string) ran {
		return runMain(t, frame.Env{In: strings.NewReader(answers), InTTY: true, ErrTTY: true}, append([]string{"chart", "import", table}, args...)...)
	}
	assert.Equal(t, 3, on("oat\nyes\n").code, "a short line is told of first")
	require.NoError(t, os.WriteFile(table, []byte("x;;x\n;x;\n"), 0o600))
	assert.Equal(t, 3, on("\n").code)
	assert.Equal(t, 3, on("12\n").code)
	assert.NoFileExists(t, made)
	assert.Zero(t, on("oat\n").code)
	text, err := os.ReadFile(made)
	require.NoError(t, err)
	assert.Contains(t, string(text), "rows:\nx.x\n.x.\n")
	assert.Zero(t, on("no-stitch\n", "--force").code)
	text, err = os.ReadFile(made)
	require.NoError(t, err)
	assert.Contains(t, string(text), "empty: _\nrows:\nx_x\n_x_\n")
}
