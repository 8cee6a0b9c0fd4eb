package chart

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const harbourLights = `# Drawn for this test.
title: Harbour lights
yarn: . oat #EFE6D2
yarn: x fjord blue #1F4E79
stitch: / . k2tog
empty: _
background: .
rows:
..x/_
.xxx.
`

func TestParse(t *testing.T) {
	c, err := Parse("lights.chart", []byte(harbourLights))
	require.NoError(t, err)
	want := &Chart{
		Comments: []string{" Drawn for this test."},
		Title:    "Harbour lights",
		Yarns: []Yarn{
			{'.', "oat", Color{0xEF, 0xE6, 0xD2}},
			{'x', "fjord blue", Color{0x1F, 0x4E, 0x79}},
		},
		Stitches:   []StitchSymbol{{'/', '.', K2tog}},
		Empty:      '_',
		Background: []rune{'.'},
		Rows:       [][]rune{[]rune(".xxx."), []rune("_/x..")},
	}
	assert.Equal(t, want, c)
	assert.Equal(t, harbourLights, c.String())
	assert.NoError(t, c.Validate())
	assert.Equal(t, []Cell{{NoYarn, Knit}, {0, K2tog}, {1, Knit}, {0, Knit}, {0, Knit}}, c.Cells(2))
	assert.Equal(t, []int{5, 4}, c.StitchCounts())
}

// Another hand or another machine writes the same chart in another way.
func TestParseTakesOtherWaysToWrite(t *testing.T) {
	want, err := Parse("", []byte(harbourLights))
	require.NoError(t, err)
	ways := map[string]string{
		"CRLF":                 strings.ReplaceAll(harbourLights, "\n", "\r\n"),
		"CR":                   strings.ReplaceAll(harbourLights, "\n", "\r"),
		"byte order mark":      "\uFEFF" + harbourLights,
		"no last line end":     strings.TrimSuffix(harbourLights, "\n"),
		"blank lines":          strings.ReplaceAll(harbourLights, "\n", "\n \n\n"),
		"trailing blanks":      strings.ReplaceAll(harbourLights, "\n", " \t\n"),
		"tabs in the header":   strings.ReplaceAll(harbourLights, ": ", ":\t\t"),
		"blanks in the rows":   strings.ReplaceAll(harbourLights, ".xxx.", "  .x\txx\u00A0."),
		"small letters":        strings.ReplaceAll(harbourLights, "#EFE6D2", "#efe6d2"),
		"comment further down": strings.TrimPrefix(harbourLights, "# Drawn for this test.\n")[:len("title: Harbour lights\n")] + harbourLights[:23] + harbourLights[45:],
		"blanks before":        strings.ReplaceAll(strings.ReplaceAll(harbourLights, "\n", "\n   "), "yarn:", "yarn :"),
	}
	for name, src := range ways {
		t.Run(name, func(t *testing.T) {
			c, err := Parse("", []byte(src))
			require.NoError(t, err)
			assert.True(t, c.Same(want), c)
		})
	}
}

func TestParseOrderOfHeaderIsFree(t *testing.T) {
	c, err := Parse("", []byte("background: .\nstitch: / . ssk\nyarn: . oat #EFE6D2\nrows:\n./\n"))
	require.NoError(t, err)
	assert.Equal(t, []int{0}, c.BackgroundYarns())
}

func TestSeveralFaultsAreShownTogether(t *testing.T) {
	src := "titel: Pier\nyarn: . oat #EFE6D\nrows:\n.o\n.\n..\n"
	_, err := Parse("pier.chart", []byte(src))
	var faults *Faults
	require.ErrorAs(t, err, &faults)
	var places []string
	for _, f := range faults.List {
		places = append(places, fmt.Sprintf("%d:%d", f.Line, f.Column))
	}
	assert.Equal(t, []string{"1:1", "2:13", "4:2", "5:2"}, places, "%v", err)
}

func TestFaultsAreCapped(t *testing.T) {
	for _, n := range []int{8, 9, 999} {
		_, err := Parse("", []byte(strings.Repeat("weather: rain\n", n)+"yarn: . oat #EFE6D2\nrows:\n.\n"))
		var faults *Faults
		require.ErrorAs(t, err, &faults)
		assert.Len(t, faults.List, 8)
		assert.Equal(t, n-8, faults.More)
		counted := fmt.Sprintf("and %d more; %d faults in all", n-8, n)
		assert.Equal(t, n > 8, strings.Contains(err.Error(), counted))
	}
}

// Whatever fills an eighth of the largest file, the answer is short.
func TestHopelessFilesAreGivenUp(t *testing.T) {
	for name, unit := range map[string]string{
		"header":     "weather: rain\n",
		"bare":       "rain\n",
		"yarns":      "yarn: . a #EFE6D2\n",
		"stitches":   "stitch: / . k2tog\n",
		"background": "background: . x\n",
		"symbols":    "yarn: .xo",
		"controls":   "\x01\n",
		"not UTF-8":  "\xFF\n",
		"blanks":     " \t",
		"accents":    "e\u0301",
		"rows":       "rows:\n",
		"commas":     ": , ",
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("", []byte(strings.Repeat(unit, MaxBytes/8/len(unit))))
			require.Error(t, err)
			assert.Less(t, len(err.Error()), 4000)
		})
	}
	words := strings.Repeat(" x", MaxBytes/2-20)
	_, err := Parse("", []byte("background:"+words+"\nrows:\n"))
	assert.ErrorContains(t, err, "512 faults in all") // 255 twice, 256 no yarn, 1 too many
	_, err = Parse("", []byte(strings.Repeat("weather: rain\n", 1001)+"rows:\n"))
	assert.ErrorContains(t, err, "given up after 1000 faults")
}

func TestManyDeclarations(t *testing.T) {
	var b strings.Builder
	for i := range MaxSymbols + 1 {
		fmt.Fprintf(&b, "yarn: %c yarn%c #EFE6D2\n", 0x4E00+i, 0x4E00+i)
	}
	_, err := Parse("", []byte(b.String()+"rows:\n\u4E00\n"))
	assert.ErrorContains(t, err, "257:7: the chart has more than 256 yarns")
}

func TestHugeFilesAreRefused(t *testing.T) {
	_, err := Parse("huge.chart", bytes.Repeat([]byte("."), MaxBytes+1))
	assert.ErrorContains(t, err, "huge.chart:1:1: the file has 8388609 bytes, more than 8388608")
	_, err = Parse("", bytes.Repeat([]byte("."), MaxBytes))
	assert.ErrorContains(t, err, "no rows: line")
	assert.Less(t, len(err.Error()), 1000)
	_, err = Parse("", []byte("titel: "+strings.Repeat("\u0301", 1<<20)))
	assert.Less(t, len(err.Error()), 1000)
}

func TestLargestChart(t *testing.T) {
	row := strings.Repeat(".", MaxColumns) + "\n"
	c, err := Parse("", []byte("yarn: . oat #EFE6D2\nrows:\n"+strings.Repeat(row, MaxRows)))
	require.NoError(t, err)
	assert.Equal(t, [2]int{MaxColumns, MaxRows}, [2]int{c.Width(), c.Height()})
}

// The caret stands right under wide letters, after tabs, and in a long line.
func TestCaret(t *testing.T) {
	cases := []struct {
		name, text string
		column     int
		want       string
	}{
		{"plain", "abc", 2, "abc\n   ^"},
		{"wide letters", "灯台x", 3, "灯台x\n      ^"},
		{"accent", "e\u0301x", 3, "e\u0301x\n   ^"},
		{"tab", "a\tb", 3, "a\tb\n   \t^"},
		{"behind the end", "ab", 3, "ab\n    ^"},
		{"invisible", "a\u200Bb", 3, "a\uFFFDb\n    ^"},
		{"ambiguous width", "·×b", 3, "·×b\n    ^"},
		{"long", strings.Repeat("-", 50) + "!" + strings.Repeat("=", 50), 51, "[...] " + strings.Repeat("-", 38) + "!" + strings.Repeat("=", 37) + " [...]\n" + strings.Repeat(" ", 46) + "^"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := Fault{1, c.column, c.text, "m", "h"}.Show("f")
			assert.Equal(t, "f:1:"+fmt.Sprint(c.column)+": m\n  "+c.want+"\n  h", got)
		})
	}
}

// The caret does not move with the locale.
func TestCaretInAnotherLocale(t *testing.T) {
	t.Setenv("LC_ALL", "ja_JP.UTF-8")
	assert.Equal(t, "1:2: m\n  ■x\n   ^\n  h", Fault{1, 2, "■x", "m", "h"}.Show(""))
}

func TestCheckSymbol(t *testing.T) {
	for _, r := range ".x/\\日é·■─█&%'\"=+-♥" {
		assert.NoError(t, CheckSymbol(r), "%c", r)
	}
	for _, r := range "07٣９,:@# \t\n\u00A0\u0301\u200B\u200D\u00AD\uFEFF\uFE0F\u3164\u2800\uE000\uFFFD\x00\x1B" {
		assert.Error(t, CheckSymbol(r), "%U", r)
	}
}

func TestNearest(t *testing.T) {
	choices := []string{"yarn", "stitch", "rows", "background"}
	for word, want := range map[string]string{
		"yran": "yarn", "Yarn": "yarn", "yarns": "yarn", "stich": "stitch", "row": "rows",
		"bakgrund": "background", "weather": "", "": "", "q": "",
	} {
		assert.Equal(t, want, Nearest(word, choices), word)
	}
}

// slipsPlainly tries every way, from the definition.
func slipsPlainly(a, b string) int {
	if a == "" || b == "" {
		return len(a) + len(b)
	}
	best := min(slipsPlainly(a[1:], b), slipsPlainly(a, b[1:])) + 1
	if a[0] == b[0] {
		return min(best, slipsPlainly(a[1:], b[1:]))
	}
	best = min(best, slipsPlainly(a[1:], b[1:])+1)
	if len(a) > 1 && len(b) > 1 && a[0] == b[1] && a[1] == b[0] {
		best = min(best, slipsPlainly(a[2:], b[2:])+1)
	}
	return best
}

func TestSlips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[ab]{0,5}`)
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		assert.Equal(t, slipsPlainly(a, b), slips([]rune(a), []rune(b)))
	})
}

func TestValidate(t *testing.T) {
	valid := func() *Chart {
		c, err := Parse("", []byte(harbourLights))
		require.NoError(t, err)
		return c
	}
	cases := map[string]struct {
		spoil func(c *Chart)
		want  string
	}{
		"technique":      {func(c *Chart) { c.Stitches[0].Technique = 200 }, "technique number 200"},
		"line break":     {func(c *Chart) { c.Title = "two\nlines" }, "no colon"},
		"blank at end":   {func(c *Chart) { c.Title = "Pier " }, "blanks at an end"},
		"ragged":         {func(c *Chart) { c.Rows[0] = c.Rows[0][:3] }, "has 3 cells"},
		"no rows":        {func(c *Chart) { c.Rows = nil }, "no rows"},
		"zero symbol":    {func(c *Chart) { c.Rows[0][0] = 0 }, "U+0000"},
		"blank cell":     {func(c *Chart) { c.Rows[0][0], c.Rows[1][0] = ' ', ' ' }, "blank cell"},
		"same name":      {func(c *Chart) { c.Yarns[1].Name = "oat" }, "called oat too"},
		"name missing":   {func(c *Chart) { c.Yarns[1].Name = "" }, "a symbol, a name and a color"},
		"no yarn":        {func(c *Chart) { c.Yarns = nil }, "no yarn"},
		"strange yarn":   {func(c *Chart) { c.Stitches[0].Yarn = 'q' }, `no yarn has the symbol "q"`},
		"no text at all": {func(c *Chart) { *c = Chart{} }, "declares no yarn"},
	}
	for name, tc := range cases {
		t.Run(name, func(t *testing.T) {
			c := valid()
			tc.spoil(c)
			assert.ErrorContains(t, c.Validate(), tc.want)
		})
	}
}

func TestWarnings(t *testing.T) {
	c, err := Parse("", []byte("yarn: . oat #EFE6D2\nstitch: / . k2tog\nstitch: ^ . yo\nstitch: K . kfb\nempty: _\nrows:\n....\n_/./\nKK.^\n...K\n....\n"))
	require.NoError(t, err)
	assert.Equal(t, []Warning{{3, 3, 5}, {4, 5, 6}, {5, 4, 3}}, c.Warnings())
	assert.Equal(t, "row 3 uses up 3 stitches, but row 2 leaves 5", c.Warnings()[0].String())
}

func TestPrintIsTheInverseOfParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := randomChart(t)
		read, err := Parse("", []byte(c.String()))
		require.NoError(t, err, c.String())
		assert.True(t, c.Same(read), "%s\n%s", c, read)
		assert.Equal(t, c.String(), read.String())
		assert.NoError(t, c.Validate())
	})
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(harbourLights))
	files, err := filepath.Glob("testdata/bad/*.chart")
	require.NoError(f, err)
	for _, file := range files {
		if src, err := os.ReadFile(file); err == nil && len(src) < 2000 {
			f.Add(src)
		}
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		c, err := Parse("f", src)
		if err != nil {
			assert.Nil(t, c)
			var faults *Faults
			require.ErrorAs(t, err, &faults)
			require.NotEmpty(t, faults.Error())
			return
		}
		again, err := Parse("f", []byte(c.String()))
		require.NoError(t, err, c.String())
		require.True(t, c.Same(again))
		require.NoError(t, c.Validate())
		c.Warnings()
		c.BackgroundYarns()
	})
}

func TestShownTitle(t *testing.T) {
	for title, want := range map[string]string{
		"": "", "Pier": "Pier", strings.Repeat("a", 48): strings.Repeat("a", 48), strings.Repeat("a", 3000): strings.Repeat("a", 47) + "…",
		strings.Repeat("灯 ", 99): strings.Repeat("灯 ", 23) + "灯…",
	} {
		got := (&Chart{Title: title}).ShownTitle()
		assert.Equal(t, want, got)
		assert.LessOrEqual(t, len([]rune(got)), 48)
	}
}
