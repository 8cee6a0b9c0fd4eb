package picture

import (
	"encoding/binary"
	"strings"
	"testing"
	codes "unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// tableForms are tables in the forms spreadsheet programs write: RFC 4180 and what is commonly
// met beside it, semicolons where the comma is the decimal mark, tabs when copied or saved as text,
// "sep=" lines, UTF-16, byte order marks, quotes, cells left blank (common practice, no source).
// All but those that say otherwise are one chart.
var tableForms = map[string]struct {
	text  string
	yarns bool   // with the yarns of a chart
	blank string // what blank cells are
	want  string // grid, rows parted by blanks; empty: the common one
	notes []string
	doubt int
}{
	"commas":                     {text: ".,x,x,.\r\nx,.,.,x\r\n.,x,.,x\r\n"},
	"semicolons":                 {text: ".;x;x;.\r\nx;.;.;x\r\n.;x;.;x\r\n"},
	"tabs":                       {text: ".\tx\tx\t.\nx\t.\t.\tx\n.\tx\t.\tx\n"},
	"line that names the mark":   {text: "sep=;\r\n.;x;x;.\r\nx;.;.;x\r\n.;x;.;x\r\n"},
	"byte order mark":            {text: "\uFEFF.;x;x;.\r\nx;.;.;x\r\n.;x;.;x\r\n"},
	"carriage returns only":      {text: ".,x,x,.\rx,.,.,x\r.,x,.,x\r"},
	"no last line end":           {text: ".,x,x,.\nx,.,.,x\n.,x,.,x"},
	"every cell quoted":          {text: "\".\",\"x\",\"x\",\".\"\r\n\"x\",\".\",\".\",\"x\"\r\n\".\",\"x\",\".\",\"x\"\r\n"},
	"UTF-16, little end first":   {text: wide(binary.LittleEndian, "\uFEFF.\tx\tx\t.\r\nx\t.\t.\tx\r\n.\tx\t.\tx\r\n")},
	"UTF-16, big end first":      {text: wide(binary.BigEndian, "\uFEFF.\tx\tx\t.\r\nx\t.\t.\tx\r\n.\tx\t.\tx\r\n")},
	"UTF-16 without a mark":      {text: wide(binary.LittleEndian, ".\tx\tx\t.\r\nx\t.\t.\tx\r\n.\tx\t.\tx\r\n")},
	"blanks around":              {text: " .,x ,\u00A0x,.\nx, .,.,x\n.,x,.,x\n"},
	"colors":                     {text: "#EFE6D2,#1F4E79,#1f4e79,#EFE6D2\n#1F4E79,#EFE6D2,#EFE6D2,#1F4E79\n#EFE6D2,#1F4E79,#EFE6D2,#1F4E79\n", yarns: true},
	"colors without their sign":  {text: "EFE6D2;1F4E79;1f4e79;EFE6D2\n1F4E79;EFE6D2;EFE6D2;1F4E79\nEFE6D2;1F4E79;EFE6D2;1F4E79\n", yarns: true},
	"names":                      {text: "oat\tfjord\tFjord\toat\nfjord\toat\toat\tfjord\noat\tfjord\toat\tfjord\n", yarns: true},
	"names and symbols":          {text: "oat,x,x,oat\nx,.,.,x\n.,fjord,.,x\n", yarns: true},
	"blank background":           {text: ",x,x,\nx,,,x\n,x,,x\n", yarns: true, blank: "oat", notes: []string{"6 cells are blank: oat"}},
	"blank background, by color": {text: ",x,x,\nx,,,x\n,x,,x\n", blank: "white", notes: []string{"6 cells are blank: white"}},
	"blank lines and edges":      {text: ";;;;\n;x;x;;\n;;;;\n", blank: ".", want: "..... .xx.. .....", notes: []string{"13 cells are blank: ."}},
	"short lines":                {text: ",x,x\nx,,,x\n,x,,x\n", blank: ".", doubt: 1, notes: []string{"1 cell is missing", "6 cells are blank: ."}},
	"no stitch":                  {text: ",x,x,\nx,_,.,x\n.,x,.,x\n", blank: NoStitch, want: "_xx_ x_.x .x.x", notes: []string{"2 cells are blank"}},
	"numbers at right and below": {
		text:  ".;x;x;.;3\nx;.;.;x;2\n.;x;.;x;1\n4;3;2;1;\n",
		notes: []string{"column numbers left out: line 4", "row numbers left out: cell 5 of each line"},
	},
	"numbers all around, some only": {
		text:  ";4;;2;;\n3;.;x;x;.;3\n;x;.;.;x;\n1;.;x;.;x;1\n;4;;2;;\n",
		notes: []string{"line 5", "line 1", "cell 6", "cell 1"},
	},
	"a word in the corner": {
		text:  "round;4;3;2;1;round\n3;.;x;x;.;3\n2;x;.;.;x;2\n1;.;x;.;x;1\n",
		notes: []string{"column numbers left out: line 1", "cell 6", "cell 1"},
	},
	"numbers from the upper left": {
		text:  ",1,2,3,4\n1,.,x,x,.\n2,x,.,.,x\n3,.,x,.,x\n",
		notes: []string{"line 1, which counts from the left", "cell 1 of each line, which counts from the top"},
	},
}

// wide is text in UTF-16.
func wide(order binary.AppendByteOrder, text string) string {
	var b []byte
	for _, unit := range codes.Encode([]rune(text)) {
		b = order.AppendUint16(b, unit)
	}
	return string(b)
}

func TestTablesAsSpreadsheetsWriteThem(t *testing.T) {
	require.GreaterOrEqual(t, len(tableForms), 20)
	known := []chart.Yarn{{Symbol: '.', Name: "oat", Color: rgb(0xEF, 0xE6, 0xD2)}, {Symbol: 'x', Name: "fjord", Color: rgb(0x1F, 0x4E, 0x79)}}
	for name, form := range tableForms {
		t.Run(name, func(t *testing.T) {
			options := TableOptions{Blank: form.blank}
			if form.yarns {
				options.Yarns = known
			}
			c, report, err := ImportTable([]byte(form.text), options)
			require.NoError(t, err)
			want := form.want
			if want == "" {
				want = ".xx. x..x .x.x"
			}
			assert.Equal(t, strings.Fields(want), grid(c))
			assert.Equal(t, form.doubt, report.Doubtful)
			notes := strings.Join(report.Notes, "\n")
			for _, note := range form.notes {
				assert.Contains(t, notes, note)
			}
			if form.yarns {
				assert.ElementsMatch(t, known, c.Yarns)
				assert.NotContains(t, notes, "made up")
			}
		})
	}
}

// A blank cell is never taken for anything unasked: without Blank each form that has one is
// refused and the first such cell named.
func TestBlankCellsAreAskedFor(t *testing.T) {
	for name, form := range tableForms {
		if form.blank == "" || name == "short lines" {
			continue
		}
		_, _, err := ImportTable([]byte(form.text), TableOptions{})
		var blank *BlankError
		require.ErrorAs(t, err, &blank, name)
		assert.Equal(t, [2]int{1, 1}, [2]int{blank.Line, blank.Cell}, name)
	}
	_, _, err := ImportTable([]byte("x,x\n"), TableOptions{Blank: "knit: 2"})
	assert.ErrorContains(t, err, `blank cells cannot be "knit: 2"`)
	_, _, err = ImportTable([]byte("9,.,x\n8,x,\n7,.,x\n"), TableOptions{})
	assert.ErrorContains(t, err, "line 2, cell 3 is blank", "numbers left out are counted")
}

// Colors as CSS writes them (Color Module Level 4: three digits stand for six, each twice, and
// names, 6.1; values from memory), and what is a name of no color.
func TestColorsOfTables(t *testing.T) {
	for text, want := range map[string]string{
		"#fff": "#FFFFFF", "#1a3": "#11AA33", "1f4e79": "#1F4E79", "white": "#FFFFFF", "Navy": "#000080",
		"dark blue": "#00008B", "LIGHTGREY": "#D3D3D3", "tomato": "#FF6347",
	} {
		c, is, err := tableColor(text)
		require.NoError(t, err, text)
		require.True(t, is, text)
		assert.Equal(t, want, c.String(), text)
	}
	for _, text := range []string{"oat", "fff", "1f4e7", "1f4e7900"} {
		_, is, _ := tableColor(text)
		assert.False(t, is, text)
	}
}

func TestYarnsOfATableAreNamed(t *testing.T) {
	c, report, err := ImportTable([]byte("oat;navy;night blue\noat;#000080;oat\n"), TableOptions{})
	require.NoError(t, err)
	assert.Equal(t, []string{".x+", ".x."}, grid(c))
	assert.Contains(t, header(c), "yarn: . oat #F2EAD8\nyarn: x navy #000080\nyarn: + night blue #1E3F66\n")
	assert.Equal(t, []string{"names or colors of 2 yarns are made up; write the right ones into the chart file"}, report.Notes)

	_, _, err = ImportTable([]byte("oat,oat\noat,oar\n"), TableOptions{Yarns: []chart.Yarn{{Symbol: '.', Name: "oat", Color: rgb(1, 2, 3)}}})
	assert.EqualError(t, err, `line 2, cell 2: no yarn is called "oar"; did you mean oat?`)
	_, _, err = ImportTable([]byte("x,.\nX,.\n"), TableOptions{Yarns: []chart.Yarn{{Symbol: 'x', Name: "oat", Color: rgb(1, 2, 3)}}})
	assert.EqualError(t, err, `line 2, cell 1: no yarn has the symbol "X"; did you mean x?`)
}
