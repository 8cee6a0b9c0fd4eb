package document

import (
	"bytes"
	"html"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/paint"
	"strandwise/cmd/paper"
)

// square is a drawing.
type square struct{}

func (square) SVG(w io.Writer, prefix string) error {
	_, err := io.WriteString(w, `<svg id="`+prefix+`"></svg>`)
	return err
}

func (square) Size() (width, height float64) { return 20, 20 }

func (square) PDF(b *paper.Book, x, y, scale float64) { b.Rect(x, y, 20*scale, 20*scale, "D") }

// letters is a chart as letters.
type letters struct{}

func (letters) Letters(w io.Writer, look Look) error {
	_, err := io.WriteString(w, map[bool]string{true: "Row 1: 3 oat.\n", false: "ooo 1\n"}[look.Plain])
	return err
}

// carded is a document with what pages have.
var carded = Document{Title: "mitten", Yarns: told.Yarns, Blocks: []Block{
	Line{Text: Words("in the round")},
	Letters{letters{}},
	Heading{Text: Words("Chart")},
	Picture{square{}},
	Heading{Text: Words("Rounds")},
	Card{Word: "round", Ticks: []Tick{{Row: 5}}, Row: Row{Number: "5", Head: "5, 6 times:", Aloud: "round 5", Runs: []Run{
		{Text{{Text: "3 oat", Yarn: 1, Whole: true}, {Text: ","}}, "3 oat"}, {Text{{Text: "11 fjord", Yarn: 2, Whole: true}}, "11 fjord"},
	}}, Blocks: []Block{Picture{square{}}, Line{Text: Text{{Aloud: "from the left"}}}, Line{Label: "  1 ", Text: Words("lift the strand")}}},
}}

func TestCardsAndLettersInText(t *testing.T) {
	var text, plain strings.Builder
	require.NoError(t, WriteText(&text, carded, Look{Paint: paint.New(paint.None), Width: 40}))
	require.NoError(t, WritePlain(&plain, carded))
	assert.Equal(t, "in the round\n\nooo 1\n\nChart\n\nRounds\n5, 6 times: 3 oat, 11 fjord\n    1 lift the strand\n", text.String())
	assert.Equal(t, "In the round.\nRow 1: 3 oat.\nChart.\nRounds.\nRound 5.\n3 oat.\n11 fjord.\nFrom the left.\nLift the strand.\n", plain.String())
}

var tags = regexp.MustCompile(`<[^>]*>`)

// read is a text with one blank between words.
func read(text string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(text, noBreak, " ")), " ")
}

// onPaper is what pdftotext reads on paper.
func onPaper(t *testing.T, d Document) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed")
	}
	name := filepath.Join(t.TempDir(), "document.pdf")
	var b bytes.Buffer
	require.NoError(t, WritePDF(&b, d, paper.A4))
	require.NoError(t, os.WriteFile(name, b.Bytes(), 0o600))
	out, err := exec.Command("pdftotext", "-raw", "-enc", "UTF-8", name, "-").Output()
	require.NoError(t, err)
	return strings.ReplaceAll(read(string(out)), " ,", ",") // what a chip has beside its letters is read as a blank
}

// What a document says stands on pages of both kinds, whatever its blocks.
func TestPagesSayWhatTheDocumentSays(t *testing.T) {
	for _, c := range []struct {
		of   Document
		says []string
	}{
		{told, []string{
			"mitten", "5 of 40 rounds", "1. oat rests over 9 stitches; catch it once more, or leave it as it is", "9 fjord and ", "oat", "3 floats; longest gap (4; 5) stitches",
			"Catches by round", "rounds 1 to 4: none", "round 5: oat 8", "chart rows", "5 to 9", "5, 6 times: 3 oat, 11 fjord (5, catch a, 5)",
		}},
		{carded, []string{"mitten", "in the round", "Chart", "Rounds", "5, 6 times: 3 oat, 11 fjord", "1 lift the strand"}},
	} {
		var page strings.Builder
		require.NoError(t, WriteHTML(&page, c.of, paper.A4))
		web, sheet := read(html.UnescapeString(tags.ReplaceAllString(page.String(), ""))), onPaper(t, c.of)
		for _, words := range c.says {
			assert.Contains(t, web, words)
			assert.Contains(t, sheet, words)
		}
	}
	assert.Contains(t, onPaper(t, carded), "mitten, round 5, page 3 of 3", "the foot tells which rows stand on the page")
}
