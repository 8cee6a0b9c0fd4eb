package picture

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/chart"
)

func TestImportTableOfSymbols(t *testing.T) {
	c, report, err := ImportTable([]byte("\uFEFF.,x,x\r\n\"=\",_,.\r\n"), TableOptions{Title: "Pier", Yarns: []chart.Yarn{{Symbol: 'x', Name: "fjord", Color: rgb(0x1F, 0x4E, 0x79)}}})
	require.NoError(t, err)
	assert.Equal(t, []string{".xx", "=_."}, grid(c))
	assert.Contains(t, header(c), "title: Pier\n")
	assert.Contains(t, header(c), "yarn: x fjord #1F4E79\n")
	assert.Equal(t, [2]int{3, 2}, [2]int{report.Columns, report.Rows})
	assert.Equal(t, []string{"names or colors of 2 yarns are made up; write the right ones into the chart file"}, report.Notes)
}

func TestImportTableOfColors(t *testing.T) {
	c, report, err := ImportTable([]byte("#EFE6D2,#1f4e79\n#EFE6D2, #EFE6D2\n"), TableOptions{})
	require.NoError(t, err)
	assert.Equal(t, []string{".x", ".."}, grid(c))
	assert.Contains(t, header(c), "yarn: . cream #EFE6D2\nyarn: x dark blue #1F4E79\n")
	assert.Empty(t, report.Notes)
	assert.Equal(t, 2, report.Colors)
}

func TestImportTableKeepsKnownNames(t *testing.T) {
	c, _, err := ImportTable([]byte("x,.\n"), TableOptions{Yarns: []chart.Yarn{{Symbol: '.', Name: "cream", Color: rgb(1, 2, 3)}}})
	require.NoError(t, err)
	assert.Contains(t, header(c), "yarn: x cream 2 #F2EAD8\n")
}

func TestBadTables(t *testing.T) {
	many := strings.Join(strings.Split("abcdefghijklmnopq", ""), ",")
	var colors []string
	for i := range 17 {
		colors = append(colors, rgb(uint8(i*9), 0, 0).String())
	}
	cases := map[string]struct{ data, want string }{
		"empty":             {"", "the table is empty"},
		"only line ends":    {"\n\r\n\n", "the table is empty"},
		"blank cells":       {",,\n,,\n", "6 cells are blank, and nothing says which yarn they are: the first is line 1, cell 1"},
		"a blank cell":      {".,x\nx,\n", "line 2, cell 2 is blank, and nothing says which yarn that is"},
		"no stitches":       {"_,_\n_,_\n", "no stitch in it"},
		"only numbers":      {"3,2,1\n", "row or column numbers and nothing else"},
		"number":            {".,12,x\nx,.,x\n.,.,x\n", `line 1, cell 2: "12" is a number`},
		"mangled color":     {"#EFE6D2,1E+40\n", `line 1, cell 2: "1E+40" is a number`},
		"remark":            {".,x\n.,knit: 2 times\n", `line 2, cell 2: "knit: 2 times" is neither one symbol, nor a color, nor the name of a yarn`},
		"hidden in a name":  {"oat,fjo\u200Brd\n", "has the invisible character U+200B in it"},
		"cut UTF-16":        {"\xFF\xFE.\x00,\x00x", "ends within a character"},
		"ragged":            {".,x\n.,x,.\n", "line 1 has 2 cells, line 2 has 3; every row needs the same number of cells, or --blank YARN"},
		"ragged short":      {".,x\r\n.\r\n", "line 2 has 1 cell, line 1 has 2"},
		"formula":           {".,x\n.,\"=SUM(A1:A2)\"\n", `line 2, cell 2: "=SUM(A1:A2)" is a formula`},
		"formula plus":      {"+A1,x\n", "is a formula"},
		"formula minus":     {"-1,x\n", "is a formula"},
		"formula at":        {"@SUM,x\n", "is a formula"},
		"word":              {".,blue\n", "line 1, cell 2: \"blue\" stands where others are of another kind"},
		"long word":         {strings.Repeat("harbor ", 9) + ",x\n", `"harbor harbor harbor..."`},
		"digit":             {".,1\n", "line 1, cell 2: the digit 1 cannot be a symbol"},
		"at sign":           {".,@\n", `"@" cannot be a symbol`},
		"quoted comma":      {".,\",\"\n", `"," cannot be a symbol`},
		"bad color":         {"#EFE6D2,#EFE6D\n", `"#EFE6D" is not a color`},
		"color word":        {"#EFE6D2,#blue\n", `"#blue" is not a color`},
		"mixed":             {"#EFE6D2,x\n", "symbols are not mixed with colors"},
		"open quote":        {".,\"x\n.,x\n", "line 1: a quoted cell is not closed"},
		"quote inside":      {".,x\"x\n", "line 1, character 4: a quotation mark stands where none can"},
		"after quote":       {".,\"x\"x\n", "line 1, character 5: a quotation mark stands where none can"},
		"not UTF-8":         {".,x\nx,\xE9\n", "line 2, character 3: the byte E9 is not UTF-8"},
		"invisible":         {".,\u200B\n", "invisible character U+200B"},
		"name and symbol":   {"x,.\nxx,.\n", `line 2, cell 1: "xx" stands where`},
		"17 symbols":        {many + "\n", "17 different symbols"},
		"17 colors":         {strings.Join(colors, ",") + "\n", "17 different colors"},
		"too many columns":  {strings.Repeat(".,", 2000) + ".\n", "larger than 2000 columns"},
		"too many rows":     {strings.Repeat(".\n", 2001), "line 2001: the table is larger"},
		"too many bytes":    {strings.Repeat(" ", chart.MaxBytes+1), "8388609 bytes"},
		"blank line":        {".,x\n\n.,x\n", "line 2 has 0 cells, line 1 has 2"},
		"hole between rows": {".,x\n_,_\n.,x\n", "line 2 of 3 from the top has only empty cells"},
		"a picture":         {"\x89PNG\r\n\x1a\n", "not UTF-8"},
	}
	for name, tc := range cases {
		t.Run(name, func(t *testing.T) {
			c, report, err := ImportTable([]byte(tc.data), TableOptions{})
			require.ErrorContains(t, err, tc.want)
			assert.Nil(t, c)
			assert.Nil(t, report)
			assert.NotContains(t, err.Error(), "\n", "one line")
		})
	}
}

// A chart written as a table of symbols or of colors comes back.
func TestImportTableRoundTrip(t *testing.T) {
	for file, c := range goodCharts(t) {
		t.Run(file, func(t *testing.T) {
			var colors, symbols strings.Builder
			byColor, bySymbol := csv.NewWriter(&colors), csv.NewWriter(&symbols)
			for row := c.Height(); row >= 1; row-- {
				painted, drawn := make([]string, c.Width()), make([]string, c.Width())
				for i, cell := range c.Cells(row) {
					if !cell.IsEmpty() {
						painted[c.Width()-1-i] = c.Yarns[cell.Yarn].Color.String()
						drawn[c.Width()-1-i] = string(c.Yarns[cell.Yarn].Symbol)
					}
				}
				require.NoError(t, byColor.Write(painted))
				require.NoError(t, bySymbol.Write(drawn))
			}
			byColor.Flush()
			bySymbol.Flush()
			got, _, err := ImportTable([]byte(colors.String()), TableOptions{Blank: NoStitch})
			require.NoError(t, err)
			requireSameColors(t, c, got, 0, false)
			got, report, err := ImportTable([]byte(symbols.String()), TableOptions{Yarns: c.Yarns, Blank: NoStitch})
			require.NoError(t, err)
			requireSameColors(t, c, got, 0, false)
			for _, note := range report.Notes {
				assert.Contains(t, note, "blank: no-stitch")
			}
		})
	}
}

func FuzzImportTable(f *testing.F) {
	for _, seed := range []string{".,x\n", "#EFE6D2,#1F4E79\r\n", "\uFEFF\".\",_\n", "=A1,\n", ".;x\n", "\"", ",,\n.,x,\n", "sep=;\noat;navy\n", "2;x\n1;.\n;1\n", "\xFF\xFEx\x00\n\x00"} {
		f.Add([]byte(seed), "")
		f.Add([]byte(seed), ".")
		f.Add([]byte(seed), "_")
	}
	f.Fuzz(func(t *testing.T, data []byte, blank string) {
		c, report, err := ImportTable(data, TableOptions{Blank: blank})
		requireWhole(t, c, report, err)
	})
}

func TestNamesAndSymbolsDiffer(t *testing.T) {
	near := []chart.Yarn{{Color: rgb(0, 0, 120)}, {Color: rgb(0, 0, 110)}, {Color: rgb(255, 255, 255), Symbol: '.'}}
	declare(near, []chart.Yarn{{Name: "White"}})
	assert.Equal(t, []string{"dark blue", "dark blue 2", "white 2"}, []string{near[0].Name, near[1].Name, near[2].Name})
	assert.Equal(t, "x+.", string([]rune{near[0].Symbol, near[1].Symbol, near[2].Symbol}))
	rapid.Check(t, func(t *rapid.T) {
		channel := rapid.Uint8()
		yarns := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) chart.Yarn {
			return chart.Yarn{Color: rgb(channel.Draw(t, "red"), channel.Draw(t, "green"), channel.Draw(t, "blue"))}
		}), 0, MaxYarns).Draw(t, "yarns")
		declare(yarns, nil)
		names, symbols := map[string]bool{}, map[rune]bool{}
		for _, y := range yarns {
			assert.False(t, names[y.Name] || symbols[y.Symbol])
			names[y.Name], symbols[y.Symbol] = true, true
		}
	})
}

// The colors for unknown symbols are as many as an import takes, clearly apart.
func TestMadeUpColors(t *testing.T) {
	assert.Len(t, madeUp, MaxYarns)
	assert.Len(t, []rune(importSymbols), MaxYarns)
	for i, a := range madeUp {
		for _, b := range madeUp[:i] {
			assert.Greater(t, chart.DeltaE(a.Lab(), b.Lab()), float64(chart.AlikeDeltaE), "%s %s", a, b)
		}
	}
}

// Spreadsheets write semicolons where the comma is the decimal mark, and tabs when copied from.
func TestSemicolonsAndTabsPartCells(t *testing.T) {
	want, _, err := ImportTable([]byte(".,x\nx,.\n"), TableOptions{})
	require.NoError(t, err)
	for _, text := range []string{".;x\nx;.\n", ".\tx\nx\t.\n"} {
		got, _, err := ImportTable([]byte(text), TableOptions{})
		require.NoError(t, err, text)
		assert.Equal(t, want.String(), got.String())
	}
}
