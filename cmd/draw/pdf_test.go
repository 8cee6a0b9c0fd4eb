package draw

import (
	"bytes"
	"image"
	"io"
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

	"strandwise/chart"
	"strandwise/cmd/knitted"
	"strandwise/cmd/paper"
)

// poppler is what one of its programs says of a document, which stands at % among its arguments.
func poppler(t *testing.T, document []byte, program string, arguments ...string) string {
	t.Helper()
	lookFor(t, program)
	name := filepath.Join(t.TempDir(), "document.pdf")
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

// wordsOf is the text of a document in the order in which it was written.
func wordsOf(t *testing.T, document []byte) string {
	t.Helper()
	return poppler(t, document, "pdftotext", "-raw", "-enc", "UTF-8", "%", "-")
}

// labeled is a document with a text in both weights.
func labeled(t *testing.T, text string) []byte {
	t.Helper()
	s := &Scene{Width: 100, Height: 30}
	for i, bold := range []bool{false, true} {
		s.add(Shape{Kind: Label, Points: []Point{{5, 10 + 10*float64(i)}}, Text: text, Size: 4, Bold: bold, Ink: Ink{Fill: &black}})
	}
	return writtenPDF(t, text, s)
}

// bookOf writes each scene on a page of its own, shrunk where it is larger.
func bookOf(w io.Writer, title string, scenes []*Scene, p paper.Paper) error {
	b := paper.NewBook(title, p)
	width, height := p.Room()
	for _, s := range scenes {
		b.AddPage()
		s.PDF(b, paper.Margin, paper.Margin, min(1, width/s.Width, height/s.Height))
	}
	return b.Finish(w)
}

func writtenPDF(t *testing.T, title string, scenes ...*Scene) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, bookOf(&b, title, scenes, paper.A4))
	return b.Bytes()
}

// What is copied from a document is what was written, letters that the fonts lack included.
// Letters that the library cannot write become U+FFFD, the sign for such.
func TestTextIsReadInPDF(t *testing.T) {
	for text, want := range map[string]string{
		"Blåbær (at) pier \\":    "Blåbær (at) pier \\",
		"Señal, Łódź, žluť, Tür": "Señal, Łódź, žluť, Tür",
		"harbor 港灣 light":        "harbor 港灣 light",
		"a \U0001F3EE lamp":      "a \uFFFD lamp",
		"\U00010000 is the next": "\uFFFD is the next",
		"cut in a letter \xe6":   "cut in a letter \uFFFD",
	} {
		document := labeled(t, text)
		assert.Equal(t, want+"\n"+want+"\n"+want+", page 1 of 1\n\f", wordsOf(t, document))
		info := poppler(t, document, "pdfinfo", "-enc", "UTF-8", "-isodates", "%")
		assert.Regexp(t, `(?m)^Title: +`+regexp.QuoteMeta(want)+"$", info)
		assert.Regexp(t, `(?m)^CreationDate: +2000-01-01T`, info)
		assert.Regexp(t, `(?m)^ModDate: +2000-01-01T`, info)
	}
}

// The fonts go into the document, cut down to the letters used.
func TestFontsAreInPDF(t *testing.T) {
	document := labeled(t, "x")
	lines := strings.Split(strings.TrimSpace(poppler(t, document, "pdffonts", "%")), "\n")
	require.Len(t, lines, 2+2)
	for _, line := range lines[2:] {
		assert.Regexp(t, `CID TrueType +Identity-H +yes `, line)
	}
	assert.Less(t, len(document), (len(goregular.TTF)+len(gobold.TTF))/10)
}

// Every letter of the examples' pictures is in the fonts.
func TestFontsHaveTheLettersOfPDF(t *testing.T) {
	var fonts []*sfnt.Font
	for _, data := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(data)
		require.NoError(t, err)
		fonts = append(fonts, f)
	}
	for name := range knitted.Examples(t) {
		wrong := writtenPDF(t, name, OnPaper(worked(t, name), Options{Side: WrongSide}, paper.A4)...)
		for _, letter := range wordsOf(t, wrong) {
			for _, f := range fonts {
				glyph, err := f.GlyphIndex(nil, letter)
				require.NoError(t, err)
				assert.True(t, glyph != 0 || letter == '\n' || letter == '\f', "%s: %q", name, letter)
			}
		}
	}
}

// pdfPages draws a document with pdftoppm.
func pdfPages(t *testing.T, document []byte, options ...string) []image.Image {
	t.Helper()
	folder := t.TempDir()
	poppler(t, document, "pdftoppm", append(options, "-png", "%", filepath.Join(folder, "page"))...)
	names, err := filepath.Glob(filepath.Join(folder, "page*.png"))
	require.NoError(t, err)
	var pages []image.Image
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		page, _, err := image.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		pages = append(pages, page)
	}
	return pages
}

func TestPDFOpensInPoppler(t *testing.T) {
	k := worked(t, "tide-yoke")
	for _, size := range []paper.Paper{paper.A4, paper.Letter} {
		var first, again bytes.Buffer
		scenes := OnPaper(k, Options{Side: WrongSide}, size)
		require.NoError(t, bookOf(&first, "tide-yoke", scenes, size))
		require.NoError(t, bookOf(&again, "tide-yoke", OnPaper(k, Options{Side: WrongSide}, size), size))
		require.True(t, bytes.Equal(first.Bytes(), again.Bytes()))
		pages := pdfPages(t, first.Bytes(), "-r", "30")
		assert.Len(t, pages, len(scenes), size.Name)
	}
}

// A bow is the parabola that the other pictures have: from (10, 10) over (50, 50) to (90, 10)
// it comes through (50, 30), and through (30, 25) and (70, 25) on the way.
func TestBowsInPDFAreParabolas(t *testing.T) {
	s := &Scene{Width: 100, Height: 60}
	s.add(Shape{Kind: Bow, Points: []Point{{10, 10}, {50, 50}, {90, 10}}, Ink: Ink{Stroke: &black, Width: 4}})
	pages := pdfPages(t, writtenPDF(t, "bow", s), "-r", "25.4") // a pixel for each mm
	require.Len(t, pages, 1)
	dark := func(x, y int) bool {
		r, _, _, _ := pages[0].At(int(paper.Margin)+x, int(paper.Margin)+y).RGBA()
		return r < 0x8000
	}
	for _, at := range []image.Point{{50, 30}, {30, 25}, {70, 25}} {
		assert.True(t, dark(at.X, at.Y), at)
		assert.False(t, dark(at.X, at.Y-5), at)
		assert.False(t, dark(at.X, at.Y+5), at)
	}
}

// Shapes come out where they were put and in their colors, moved, shrunk by half and clipped;
// and what a clip had set is not taken for set after it.
func TestShapesInPDFAreInPlace(t *testing.T) {
	red, blue, green := chart.Color{R: 200}, chart.Color{B: 200}, chart.Color{G: 200}
	width, _ := paper.A4.Room()
	s := &Scene{Width: 2 * width, Height: 100}
	s.box("", Point{20, 10}, 40, 20, Ink{Fill: &red})
	s.clipped(Point{100, 10}, 120, 90, func() { s.disc("", Point{100, 50}, 20, Ink{Fill: &blue}) }) // its right half
	s.add(Shape{Kind: Label, Points: []Point{{300, 50}}, Text: "█", Size: 40, Ink: Ink{Fill: &blue}})
	s.disc("", Point{200, 50}, 20, Ink{Fill: &blue})
	s.add(Shape{Kind: Line, Points: []Point{{20, 80}, {60, 80}}, Ink: Ink{Stroke: &green, Width: 8}})
	s.add(Shape{Kind: Line, Points: []Point{{70, 80}, {90, 60}, {90, 80}}, Ink: Ink{Fill: &green}})
	pages := pdfPages(t, writtenPDF(t, "shapes", s), "-r", "25.4")
	require.Len(t, pages, 1)
	none := chart.Color{R: 255, G: 255, B: 255}
	for at, want := range map[image.Point]chart.Color{
		{12, 7}: red, {28, 13}: red, {8, 10}: none, {32, 10}: none, {20, 3}: none, {20, 17}: none,
		{52, 25}: blue, {58, 25}: blue, {47, 25}: none, {51, 33}: blue, {59, 33}: none, {62, 25}: none,
		{92, 25}: blue, {100, 16}: blue, {108, 25}: blue, {88, 25}: none, {153, 20}: blue,
		{11, 40}: green, {29, 40}: green, {20, 36}: none, {20, 44}: none, {43, 37}: green, {37, 33}: none,
	} {
		r, g, b, _ := pages[0].At(int(paper.Margin)+at.X, int(paper.Margin)+at.Y).RGBA()
		assert.Equal(t, want, chart.Color{R: uint8(r >> 8), G: uint8(g >> 8), B: uint8(b >> 8)}, at)
	}
}

func TestErrorsOfWritingPDFComeBack(t *testing.T) {
	assert.ErrorIs(t, bookOf(failing{}, "sea", nil, paper.A4), io.ErrShortWrite)
}

// failing is a writer that fails.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

// A piece that fits goes on one page at the true shape of its stitches.
func TestSmallPiecesTakeOnePage(t *testing.T) {
	scenes := OnPaper(worked(t, "pier-panel"), Options{Side: RightSide}, paper.A4)
	require.Len(t, scenes, 1)
	width, height := paper.A4.Room()
	assert.LessOrEqual(t, scenes[0].Width, width+0.5, "what is over is shrunk away")
	assert.LessOrEqual(t, scenes[0].Height, height+0.5)
}
