package paint

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

func environment(m map[string]string) func(string) string {
	return func(name string) string { return m[name] }
}

func TestDecide(t *testing.T) {
	for _, c := range []struct {
		name     string
		when     string
		terminal bool
		env      map[string]string
		want     Depth
	}{
		{"a pipe", Auto, false, map[string]string{"TERM": "xterm-256color"}, None},
		{"never on a terminal", Never, true, map[string]string{"COLORTERM": "truecolor"}, None},
		{"always on a pipe", Always, false, map[string]string{"TERM": "xterm-256color"}, Palette},
		{"always beats a dumb terminal", Always, true, map[string]string{"TERM": "dumb"}, Sixteen},
		{"dumb", Auto, true, map[string]string{"TERM": "dumb", "COLORTERM": "truecolor"}, None},
		{"truecolor", Auto, true, map[string]string{"TERM": "xterm", "COLORTERM": "truecolor"}, True},
		{"24bit", Auto, true, map[string]string{"TERM": "xterm-256color", "COLORTERM": "24bit"}, True},
		{"direct", Auto, true, map[string]string{"TERM": "xterm-direct"}, True},
		{"256", Auto, true, map[string]string{"TERM": "screen-256color"}, Palette},
		{"plain xterm", Auto, true, map[string]string{"TERM": "xterm"}, Sixteen},
		{"nothing known", Auto, true, nil, Sixteen},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, Decide(c.when, c.terminal, environment(c.env)))
		})
	}
}

var (
	oat   = chart.Color{R: 0xEF, G: 0xE6, B: 0xD2}
	fjord = chart.Color{R: 0x1F, G: 0x4E, B: 0x79}
	navy  = chart.Color{R: 0x10, G: 0x18, B: 0x40}
)

func TestYarnCodes(t *testing.T) {
	for _, c := range []struct {
		depth Depth
		color chart.Color
		begin string
	}{
		{True, oat, "\x1b[48;2;239;230;210;38;2;0;0;0m"},
		{True, fjord, "\x1b[48;2;31;78;121;38;2;255;255;255m"},
		{Palette, fjord, "\x1b[48;5;24;38;5;231m"},
		{Sixteen, oat, "\x1b[47;30m"},
		{Sixteen, chart.Color{}, "\x1b[40;97m"},
		{Sixteen, chart.Color{R: 255, G: 255, B: 255}, "\x1b[107;30m"},
	} {
		got := New(c.depth).Yarn(" 11 fjord ", c.color)
		assert.Equal(t, c.begin+" 11 fjord ", strings.Split(got, "\x1b[0")[0])
		assert.True(t, strings.HasSuffix(got, "m"))
	}
}

func TestWithoutColorTextIsUntouched(t *testing.T) {
	p := New(None)
	for _, got := range []string{p.Yarn("x", fjord), p.Quiet("x"), p.Strong("x"), p.Warn("x")} {
		assert.Equal(t, "x", got)
	}
	assert.Empty(t, New(True).Strong(""))
}

// TestNoColorVariableHasNoSay holds that only Decide's answer counts, whatever
// the library underneath makes of the variable.
func TestNoColorVariableHasNoSay(t *testing.T) {
	t.Setenv("NO_COLOR", "1")
	assert.Equal(t, "\x1b[1mx\x1b[22m", New(Sixteen).Strong("x"))
}

func TestEveryPaletteColorIsItsOwnNearest(t *testing.T) {
	for _, d := range []Depth{Sixteen, Palette} {
		list := entries(d)
		assert.Len(t, list, map[Depth]int{Sixteen: 16, Palette: 240}[d])
		for _, e := range list {
			assert.Equal(t, e.color, nearest(e.color, list).color)
		}
	}
}

func TestCollide(t *testing.T) {
	blues := []chart.Yarn{{Color: navy}, {Color: oat}, {Color: chart.Color{R: 0x11, G: 0x19, B: 0x41}}, {Color: navy}}
	assert.Equal(t, [][2]int{{0, 2}, {2, 3}}, New(Sixteen).Collide(blues))
	assert.Equal(t, [][2]int{{0, 2}, {2, 3}}, New(Palette).Collide(blues))
	assert.Empty(t, New(True).Collide(blues))
	assert.Empty(t, New(None).Collide(blues))
}

// Where two yarns fall together bold and underline tell the later one: codes 1 and 4 of
// ECMA-48.
func TestYarnApartIsToldWithoutColor(t *testing.T) {
	assert.Contains(t, New(Sixteen).YarnApart("x", navy), ";1;4mx")
	assert.Equal(t, "x", New(None).YarnApart("x", navy))
}

// TestForegroundIsReadable holds 4.5 (W3C WCAG 2.2, contrast minimum) for any
// background: black or white always reaches it.
func TestForegroundIsReadable(t *testing.T) {
	white, black := chart.Color{R: 255, G: 255, B: 255}, chart.Color{}
	for r := 0; r < 256; r += 15 {
		for g := 0; g < 256; g += 15 {
			for b := 0; b < 256; b += 15 {
				c := chart.Color{R: uint8(r), G: uint8(g), B: uint8(b)}
				text := black
				if strings.Contains(New(True).Yarn("x", c), "38;2;255;255;255") {
					text = white
				}
				require.GreaterOrEqual(t, chart.ContrastRatio(c, text), 4.5, c)
			}
		}
	}
}

func TestWidthDoesNotFollowTheLocale(t *testing.T) {
	t.Setenv("LC_ALL", "ja_JP.UTF-8")
	for text, want := range map[string]int{"█": 1, "▲": 1, "oat": 3, "漁": 2, "é": 1, "e\u0301": 1, "": 0} {
		assert.Equal(t, want, Width(text), text)
	}
	assert.Equal(t, "漁  ", Pad("漁", 4))
	assert.Equal(t, "harbour", Pad("harbour", 3))
}

func TestWrap(t *testing.T) {
	runs := []string{"3 oat,", "11 fjord (oat on 6),", "1 oat,", "x 12"}
	for _, c := range []struct {
		name   string
		pieces []string
		width  int
		want   []string
	}{
		{"one line", runs, 80, []string{"57: 3 oat, 11 fjord (oat on 6), 1 oat, x 12"}},
		{"between pieces", runs, 31, []string{"57: 3 oat, 11 fjord (oat on 6),", "57: 1 oat, x 12"}},
		{"one column less", runs, 30, []string{"57: 3 oat,", "57: 11 fjord (oat on 6),", "57: 1 oat, x 12"}},
		{"too narrow for anything", runs, 1, []string{"57: 3 oat,", "57: 11 fjord (oat on 6),", "57: 1 oat,", "57: x 12"}},
		{"wide letters", []string{"漁火", "漁火"}, 9, []string{"57: 漁火", "57: 漁火"}},
		{"nothing", nil, 80, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, Wrap("57: ", c.pieces, c.width))
		})
	}
}

func TestChooseMarks(t *testing.T) {
	for _, c := range []struct {
		name, which string
		env         map[string]string
		want        Marks
	}{
		{"UTF-8 locale", Auto, map[string]string{"LANG": "en_US.UTF-8"}, unicodeMarks},
		{"other spelling", Auto, map[string]string{"LANG": "C.utf8"}, unicodeMarks},
		{"LC_ALL comes first", Auto, map[string]string{"LC_ALL": "C", "LANG": "en_US.UTF-8"}, asciiMarks},
		{"LC_CTYPE before LANG", Auto, map[string]string{"LC_CTYPE": "en_US.UTF-8", "LANG": "C"}, unicodeMarks},
		{"asked for ASCII", ASCII, map[string]string{"LANG": "en_US.UTF-8"}, asciiMarks},
		{"asked for Unicode", Unicode, nil, unicodeMarks},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, ChooseMarks(c.which, environment(c.env)))
		})
	}
}

func TestMarksAreOneColumnWide(t *testing.T) {
	for _, m := range []Marks{unicodeMarks, asciiMarks} {
		for _, mark := range []string{m.Catch, m.Shape, m.Chose, m.Left, m.Right, m.Block, m.Blank} {
			assert.Equal(t, 1, Width(mark), mark)
		}
	}
}
