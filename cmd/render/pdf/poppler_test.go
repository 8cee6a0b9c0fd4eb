package pdf

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// poppler runs one of its programs on a document, with the document's name for % and what
// comes out.
func poppler(t *testing.T, document []byte, program string, arguments ...string) string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Skipf("%s is not installed", program)
	}
	name := filepath.Join(t.TempDir(), "harbor.pdf")
	require.NoError(t, os.WriteFile(name, document, 0o600))
	for i := range arguments {
		arguments[i] = strings.ReplaceAll(arguments[i], "%", name)
	}
	var complaints strings.Builder
	command := exec.Command(program, arguments...)
	command.Stderr = &complaints
	out, err := command.Output()
	require.NoError(t, err, complaints.String())
	require.Empty(t, complaints.String(), "%s complains of nothing", program)
	return string(out)
}

// What is copied from the document is what was written, letters the fonts lack included.
func TestPopplerReadsTheText(t *testing.T) {
	pages := strings.Split(poppler(t, written(t, harbor(t)), "pdftotext", "-enc", "UTF-8", "%", "-"), "\f")
	require.Len(t, pages, 3)
	for n, number := range []string{"0", "1"} {
		assert.Equal(t, "Blåbær (at) pier \\ "+number+"\nSeñal, Łódź, žluť, Tür\nharbor 港灣 light", strings.TrimSpace(strings.ReplaceAll(pages[n], "\n\n", "\n")))
	}
}

func TestPopplerReadsTheTitle(t *testing.T) {
	info := poppler(t, written(t, harbor(t)), "pdfinfo", "-enc", "UTF-8", "-isodates", "%")
	assert.Regexp(t, `(?m)^Title: +Pier \(east\) \\ Kai é$`, info)
	assert.Regexp(t, `(?m)^CreationDate: +2031-03-09T12:00:00Z$`, info)
	assert.Regexp(t, `(?m)^Pages: +2$`, info)
	assert.Regexp(t, `(?m)^Page size: +283\.46\d* x 141\.73\d* pts`, info)
}

// picture is the first page, a pixel for each mm.
func picture(t *testing.T, document []byte) image.Image {
	t.Helper()
	folder := t.TempDir()
	poppler(t, document, "pdftoppm", "-png", "-r", "25.4", "-singlefile", "%", filepath.Join(folder, "page"))
	file, err := os.Open(filepath.Join(folder, "page.png"))
	require.NoError(t, err)
	defer file.Close()
	img, err := png.Decode(file)
	require.NoError(t, err)
	return img
}

// Shapes come out where they were put: y from the top, moved, scaled and clipped.
func TestPopplerDrawsInPlace(t *testing.T) {
	d := New(100, 50, About{})
	p := d.AddPage()
	p.Save()
	p.Translate(10, 5)
	p.Scale(2)
	p.SetFill(200, 0, 0)
	p.Rectangle(0, 0, 10, 5) // 10..30, 5..15
	p.Paint(true, false)
	p.Restore()
	p.Save()
	p.Rectangle(60, 10, 10, 30)
	p.Clip()
	p.SetFill(0, 0, 200)
	p.Circle(60, 25, 10) // its right half
	p.Paint(true, false)
	p.Restore()
	p.SetWidth(4)
	p.SetStroke(0, 200, 0)
	p.MoveTo(10, 40)
	p.QuadTo(30, 20, 50, 40) // through (30, 30)
	p.Paint(false, true)
	img := picture(t, written(t, d))
	white, red := color.RGBA{255, 255, 255, 255}, color.RGBA{200, 0, 0, 255}
	blue, green := color.RGBA{0, 0, 200, 255}, color.RGBA{0, 200, 0, 255}
	for at, want := range map[image.Point]color.RGBA{
		{11, 6}: red, {28, 13}: red, {8, 10}: white, {32, 10}: white, {20, 3}: white, {20, 17}: white,
		{62, 25}: blue, {68, 25}: blue, {57, 25}: white, {61, 33}: blue, {69, 33}: white, {72, 25}: white,
		{30, 30}: green, {30, 26}: white, {30, 36}: white,
	} {
		assert.Equal(t, want, color.RGBAModel.Convert(img.At(at.X, at.Y)), at)
	}
}
