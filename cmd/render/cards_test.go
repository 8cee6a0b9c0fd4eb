package render

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"strandwise/cmd/draw"
	"strandwise/cmd/knitted"
	"strandwise/session"
)

func TestCardsTellEachRowAsItsSheetDoes(t *testing.T) {
	for name, k := range knitted.Examples(t) {
		k.Rows = 2
		p := k.Knit(t)
		cards := NewCards(p, 3, p.Rows(), false)
		require.Len(t, cards.Rows, p.Rows()-2, name)
		for _, c := range cards.Rows {
			s := p.Sheet(c.Number)
			var glances []string
			for _, g := range s.Glances() {
				glances = append(glances, g.String())
			}
			require.Equal(t, strings.Join(glances, "\n"), strings.ReplaceAll(strings.Join(append([]string{c.Glance}, c.OtherRepeats...), "\n"), noBreak, " "))
			require.Equal(t, draw.Strip(s), c.Strip)
		}
	}
}

// A motion stands in full once, in few words when it comes back, and not at all while it stays.
func TestMotionsStandOncePerChange(t *testing.T) {
	k := knitted.Examples(t)["lantern-band"]
	k.Rows = 0
	cards := NewCards(k.Knit(t), 1, 22, false)
	var titles []string
	for _, c := range cards.Rows {
		for _, m := range c.Motions {
			titles = append(titles, fmt.Sprintf("%d %s %v", c.Number, m.Title, len(m.Steps) > 1))
		}
	}
	assert.Equal(t, []string{"5 a, b: weave oat, left hand true", "8 b: weave fjord, right hand true", "16 b: weave fjord, right hand false"}, titles)
}

func TestCardsCarryTheCautions(t *testing.T) {
	k := knitted.Examples(t)["mooring-mitten"]
	k.Rows = 0
	p := k.Knit(t)
	cards := NewCards(p, 1, p.Rows(), false)
	assert.Equal(t, append(session.HandsFeet.Cautions(), session.HandCautions...), cards.Cautions)
	assert.Empty(t, cards.Rows[0].Begins, "they stand right above, at the head")
	assert.Equal(t, session.HandsFeet.Cautions(), p.Sheet(1).Cautions)
	assert.Empty(t, cards.Rows[1].Begins)
}

// lookFor skips a test where a program is missing.
func lookFor(t *testing.T, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Skipf("%s is not installed", program)
	}
}

// poppler is what one of its programs says of a document, which stands at % among its arguments.
func poppler(t *testing.T, document []byte, program string, arguments ...string) string {
	t.Helper()
	lookFor(t, program)
	name := filepath.Join(t.TempDir(), "cards.pdf")
	require.NoError(t, os.WriteFile(name, document, 0o600))
	arguments[slices.Index(arguments, "%")] = name
	var complaints strings.Builder
	command := exec.Command(program, arguments...)
	command.Stderr = &complaints
	out, err := command.Output()
	require.NoError(t, err, complaints.String())
	require.Empty(t, complaints.String(), "%s complains of nothing", program)
	return string(out)
}

// textOf is what pdftotext reads on each page of a document.
func textOf(t *testing.T, document []byte) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(poppler(t, document, "pdftotext", "-layout", "%", "-"), "\f"), "\f")
}

// rowBegins finds the first line of a row.
var rowBegins = regexp.MustCompile(`(?m)^ *(\d+)(?:, [^:]+)?: `)

// Every row stands whole on one page: its number and its place in the chart are read there, in
// order, on both papers; the chart comes first.
func TestCardsBreakBetweenRows(t *testing.T) {
	k := knitted.Examples(t)["tide-yoke"]
	k.Rows = 0
	p := k.Knit(t)
	for _, paper := range []draw.Paper{draw.A4, draw.Letter} {
		var b, again bytes.Buffer
		require.NoError(t, CardsPDF(&b, NewCards(p, 1, p.Rows(), false), paper))
		require.NoError(t, CardsPDF(&again, NewCards(p, 1, p.Rows(), false), paper))
		require.True(t, bytes.Equal(b.Bytes(), again.Bytes()))
		pages := textOf(t, b.Bytes())
		assert.Contains(t, pages[0], "right side, rounds 1 to 60, one repeat")
		row := 1
		for _, page := range pages[1:] {
			for _, begun := range rowBegins.FindAllStringSubmatch(page, -1) {
				require.Equal(t, fmt.Sprint(row), begun[1], paper.Name)
				require.Contains(t, page, fmt.Sprintf("row %d of 60", row), paper.Name)
				row++
			}
		}
		assert.Equal(t, p.Rows()+1, row, "every row is there, in order")
		assert.Contains(t, pages[1], fmt.Sprintf("page 2 of %d", len(pages)))
	}
}

func TestCardsOpenInPoppler(t *testing.T) {
	k := knitted.Examples(t)["pier-panel"]
	k.Rows = 0
	var b bytes.Buffer
	p := k.Knit(t)
	require.NoError(t, CardsPDF(&b, NewCards(p, 1, p.Rows(), false), draw.Letter))
	assert.NotEmpty(t, poppler(t, b.Bytes(), "pdftoppm", "-r", "20", "-gray", "%"))
}

// Every letter of the examples' cards is in the fonts.
func TestFontsHaveTheLettersOfCards(t *testing.T) {
	var fonts []*sfnt.Font
	for _, data := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(data)
		require.NoError(t, err)
		fonts = append(fonts, f)
	}
	for name, k := range knitted.Examples(t) {
		p := k.Knit(t)
		var cards bytes.Buffer
		require.NoError(t, CardsPDF(&cards, NewCards(p, 1, p.Rows(), false), draw.A4))
		for _, letter := range poppler(t, cards.Bytes(), "pdftotext", "-raw", "-enc", "UTF-8", "%", "-") {
			for _, f := range fonts {
				glyph, err := f.GlyphIndex(nil, letter)
				require.NoError(t, err)
				assert.True(t, glyph != 0 || letter == '\n' || letter == '\f', "%s: %q", name, letter)
			}
		}
	}
}

// bigPiece is 300 rounds of 240 stitches, catches planned plainly, nothing knitted.
func bigPiece(t testing.TB) *session.Piece {
	k := knitted.Examples(t)["night-sea"]
	k.Setup.Parts[0].Repeats, k.Setup.Parts[0].Times, k.Rows, k.Even = 5, 7, 0, true
	return k.Knit(t)
}

// BenchmarkCards makes the cards of 300 rounds of 240 stitches.
func BenchmarkCards(b *testing.B) {
	p := bigPiece(b)
	var out bytes.Buffer
	for _, c := range []struct {
		name  string
		write func(*Cards) error
	}{
		{"pdf", func(c *Cards) error { return CardsPDF(&out, c, draw.A4) }},
		{"html", func(c *Cards) error { return CardsHTML(&out, c, draw.A4) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				out.Reset()
				if err := c.write(NewCards(p, 1, 300, false)); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(out.Len())/1e6, "MB")
		})
	}
}
