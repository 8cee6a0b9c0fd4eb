package chart

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden files anew")

// badCharts are the files of testdata/bad, each with one fault: where it stands
// and words its message and its hint must have.
var badCharts = []struct {
	name         string
	line, column int
	message      string
	hint         string
}{
	{"accent-in-row", 6, 4, "the accent U+0301", "declared symbols are . x"},
	{"background-stitch", 6, 13, `no yarn has the symbol "/"`, "name the yarn it is worked in: ."},
	{"background-twice", 5, 15, "stands here twice", "each background yarn once"},
	{"background-unknown", 5, 13, `no yarn has the symbol "o"`, "the yarns are . x"},
	{"color-letters", 4, 15, `"#1F4E7G" is not a color`, "for example #1F4E79"},
	{"color-no-mark", 4, 15, `"1F4E79" is not a color`, "write #1F4E79"},
	{"color-short", 4, 15, `"#14A" is not a color`, "write #1144AA"},
	{"column-limit", 4, 2001, "more than 2000 columns", "parts"},
	{"comment-in-rows", 7, 1, "a comment cannot stand among the rows", "above rows:"},
	{"control-character", 2, 13, "U+001B", "delete it"},
	{"digit-symbol", 3, 7, "the digit 3 cannot be a symbol", "one visible character"},
	{"empty-file", 1, 1, "without a rows: line", "write rows:"},
	{"empty-row", 7, 1, "only empty cells", "give it a stitch"},
	{"empty-second", 6, 1, "the first is line 5", "keep one"},
	{"header-typo", 2, 1, `"titel:" is not the beginning`, "write title:"},
	{"header-unknown", 2, 1, `"weather:" is not the beginning`, "background:"},
	{"invisible-in-row", 6, 3, "U+200B", "delete it"},
	{"mark-symbol", 3, 7, `"@" cannot be a symbol`, "none of , : @ #"},
	{"name-begins-with-digit", 4, 9, "begin with the digit 2", "the count first"},
	{"name-colon", 4, 14, `":" in it`, "leave out commas"},
	{"name-comma", 4, 14, `"," in it`, "leave out commas"},
	{"name-parenthesis", 4, 14, `"(" in it`, "parentheses"},
	{"name-twice", 4, 9, "line 3 is called oat too", "speak by name"},
	{"name-x", 4, 9, "cannot be called x", "longer name"},
	{"no-colon", 2, 1, "no colon", "WORD:"},
	{"no-grid", 4, 1, "no rows", "below rows:"},
	{"no-rows-line", 5, 1, "the grid begins here", "write rows:"},
	{"no-yarn", 1, 1, "declares no yarn", "yarn: SYMBOL NAME COLOR"},
	{"not-utf8", 4, 11, "byte F8 is not UTF-8", "save the file as UTF-8"},
	{"nothing-after-title", 2, 7, "nothing stands after title:", "write title:"},
	{"number-in-row", 7, 1, "the digit 1 is not a stitch", "the last line is row 1"},
	{"row-limit", 2004, 1, "more than 2000 rows", "parts"},
	{"row-long", 8, 6, "this row has 6 cells, the others 5", "same number"},
	{"row-short", 8, 4, "this row has 3 cells, the others 5", "same number"},
	{"rows-with-text", 5, 7, "a line of its own", "next line"},
	{"stitch-short", 5, 11, "a symbol, a yarn and a technique", "stitch: SYMBOL YARN TECHNIQUE"},
	{"stitch-technique", 5, 13, `"k2tg" is not a technique`, "did you mean k2tog?"},
	{"stitch-technique-far", 5, 13, `"bobble" is not a technique`, "knit, purl, slip"},
	{"stitch-yarn-name", 5, 11, `no yarn has the symbol "oat"`, "oat is ."},
	{"symbol-other-case", 6, 3, "the symbol X is not declared", "did you mean x?"},
	{"symbol-twice", 5, 7, "already declared in line 3", "another symbol"},
	{"symbol-two-letters", 3, 8, `"xx" is 2 characters`, "one visible character"},
	{"symbol-unknown", 6, 3, "the symbol o is not declared", "use one of . x"},
	{"symbol-wide", 8, 3, "the symbol 本 is not declared", "declare it"},
	{"title-twice", 3, 1, "a second title: line", "keep one"},
	{"utf16", 1, 1, "UTF-16", "save the file as UTF-8"},
	{"yarn-short", 4, 16, "a symbol, a name and a color", "yarn: SYMBOL NAME COLOR"},
}

func TestBadCharts(t *testing.T) {
	for _, bad := range badCharts {
		t.Run(bad.name, func(t *testing.T) {
			file := filepath.Join("testdata", "bad", bad.name+".chart")
			src, err := os.ReadFile(file)
			require.NoError(t, err)
			c, err := Parse(bad.name+".chart", src)
			assert.Nil(t, c)
			var faults *Faults
			require.ErrorAs(t, err, &faults)
			require.Len(t, faults.List, 1, "%v", err)
			assert.Zero(t, faults.More)
			fault := faults.List[0]
			assert.Equal(t, [2]int{bad.line, bad.column}, [2]int{fault.Line, fault.Column}, "%v", err)
			assert.Contains(t, fault.Message, bad.message)
			assert.Contains(t, fault.Hint, bad.hint)
			golden(t, strings.TrimSuffix(file, ".chart")+".txt", err.Error()+"\n")
		})
	}
}

// Every file of the folder stands in the table.
func TestBadChartsAreAllListed(t *testing.T) {
	files, err := filepath.Glob("testdata/bad/*.chart")
	require.NoError(t, err)
	assert.Len(t, files, len(badCharts))
}

func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}
