package cmd

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
)

// painted is a picture whose pixels are given by a function.
func painted(w, h int, at func(x, y int) color.Color) image.Image {
	m := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.Set(x, y, at(x, y))
		}
	}
	return m
}

func asPNG(m image.Image) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func asJPEG(m image.Image) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func asGIF(m image.Image) []byte {
	var b bytes.Buffer
	if err := gif.Encode(&b, m, nil); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func checkered(x, y int) color.Color {
	if (x+y)%2 == 0 {
		return color.NRGBA{0xEF, 0xE6, 0xD2, 255}
	}
	return color.NRGBA{0x1F, 0x4E, 0x79, 255}
}

func seeThrough(int, int) color.Color { return color.NRGBA{} }

// claimed gives a PNG another size in its header, with the checksum to match.
func claimed(data []byte, w, h uint32) []byte {
	d := bytes.Clone(data)
	for i := range 4 {
		d[16+i], d[20+i] = byte(w>>(24-8*i)), byte(h>>(24-8*i))
	}
	sum := crc(d[12:29])
	for i := range 4 {
		d[29+i] = byte(sum >> (24 - 8*i))
	}
	return d
}

// crc is the checksum of a PNG chunk (ISO/IEC 15948, annex D).
func crc(data []byte) uint32 {
	sum := ^uint32(0)
	for _, b := range data {
		sum ^= uint32(b)
		for range 8 {
			if sum&1 == 1 {
				sum = sum>>1 ^ 0xEDB88320
			} else {
				sum >>= 1
			}
		}
	}
	return ^sum
}

// colorful has so many colors clearly apart that it is no chart.
func colorful(x, y int) color.Color {
	n := x + 20*y
	return color.NRGBA{uint8(n % 7 * 42), uint8(n / 7 % 7 * 42), uint8(n / 49 % 7 * 42), 255}
}

// badFile is one file that cannot be imported.
type badFile struct {
	name  string // of the case and, by its ending, the file
	data  []byte
	flags []string
}

func badFiles() []badFile {
	good := asPNG(painted(16, 12, checkered))
	photo, moving := asJPEG(painted(64, 64, checkered)), asGIF(painted(16, 12, checkered))
	files := []badFile{
		{"empty.png", nil, nil},
		{"empty.csv", nil, nil},
		{"empty.jpg", nil, nil},
		{"one-pixel.png", asPNG(painted(1, 1, checkered)), nil},
		{"one-pixel.gif", asGIF(painted(1, 1, checkered)), nil},
		{"one-pixel.jpg", asJPEG(painted(1, 1, checkered)), nil},
		{"wide.png", claimed(good, 20000, 12), nil},
		{"tall.png", claimed(good, 16, 20000), nil},
		{"vast.png", claimed(good, 60000, 60000), nil},
		{"none-wide.png", claimed(good, 0, 12), nil},
		{"flat.png", claimed(good, 16, 0), nil},
		{"negative.png", claimed(good, 1<<31, 12), nil},
		{"clear.png", asPNG(painted(8, 8, seeThrough)), nil},
		{"hole.png", asPNG(painted(8, 9, func(x, y int) color.Color {
			if y == 4 {
				return color.NRGBA{}
			}
			return checkered(x, y)
		})), nil},
		{"colors.png", asPNG(painted(20, 15, colorful)), nil},
		{"photo.jpg", photo, nil},
		{"header.png", good[:8], nil},
		{"signature.png", append([]byte("\x89PNG\r\n\x1a\n"), "no chunks at all"...), nil},
		{"flipped.png", append(append(bytes.Clone(good[:60]), ^good[60]), good[61:]...), nil},
		{"dos.png", bytes.ReplaceAll(good, []byte("\r\n\x1a\n"), []byte("\n\x1a\n")), nil},
		{"marker.jpg", []byte("\xff\xd8\xff"), nil},
		{"head.gif", moving[:6], nil},
		{"screen.gif", moving[:13], nil},
		{"text.png", []byte("this is a shopping list"), nil},
		{"chart.png", []byte("yarn: . oat #EFE6D2\nrows:\n...\n"), nil},
		{"picture.bmp", []byte("BM\x46\x00\x00\x00\x00\x00\x00\x00"), nil},
		{"picture.webp", []byte("RIFF\x24\x00\x00\x00WEBPVP8 \x00\x00"), nil},
		{"picture.tiff", []byte("II*\x00\x08\x00\x00\x00"), nil},
		{"drawing.pdf", []byte("%PDF-1.7\x00\n"), nil},
		{"packed.zip", []byte("PK\x03\x04\x14\x00\x00\x00"), nil},
		{"zeros.png", make([]byte, 4096), nil},
		{"cells.png", asPNG(painted(30, 20, checkered)), []string{"--cell", "12x10"}},
		{"cells-too-large.png", good, []string{"--cell", "100x100"}},
		{"columns-too-many.png", good, []string{"--column-count", "100", "--row-count", "12"}},
		{"rows-too-many.png", good, []string{"--column-count", "16", "--row-count", "100"}},
	}
	for _, share := range []int{3, 5, 8} {
		files = append(files,
			badFile{fmt.Sprintf("cut-%d.png", share), good[:len(good)*share/10], nil},
			badFile{fmt.Sprintf("cut-%d.jpg", share), photo[:len(photo)*share/10], nil},
			badFile{fmt.Sprintf("cut-%d.gif", share), moving[:len(moving)*share/10], nil})
	}
	return append(files, badTables()...)
}

func badTables() []badFile {
	var tables []badFile
	for name, text := range map[string]string{
		"blank":          "\n\n\n",
		"only-empty":     ",,,\n,,,\n",
		"ragged":         "x,.,x\nx,.\n",
		"longer":         "x,.\nx,.,.\n",
		"formula":        "x,=A1,x\nx,.,x\n",
		"formula-plus":   "x,+1+1,x\n",
		"formula-at":     "x,@SUM(A1),x\n",
		"formula-minus":  "x,-1-1,x\n",
		"words":          "oat,fjord: dark,oat\n",
		"digits":         "1,0,1\n0,1,0\n",
		"two-kinds":      "x,#1F4E79\n.,#EFE6D2\n",
		"bad-color":      "#1F4E7,#EFE6D2\n",
		"color-name":     "#blue12,#EFE6D2\n",
		"open-quote":     "x,\"x,.\nx,.,x\n",
		"stray-quote":    "x,a\"b,x\n",
		"blank-row":      "x,.\n,\n.,x\n",
		"latin-1":        "x,\xe9\n",
		"utf-16":         "\xff\xfex\x00,\x00.\x00\n",
		"control":        "x,\x07\n",
		"bom-crlf-wrong": "\ufeffx,.\r\nx\r\n",
		"wide-twice":     "海海,海\n",
	} {
		tables = append(tables, badFile{name + ".csv", []byte(text), nil})
	}
	var many, colors strings.Builder
	for i := range 40 {
		fmt.Fprintf(&many, "%c,", 'A'+rune(i%26)+rune(i/26)*32)
		fmt.Fprintf(&colors, "#%02X%02X%02X,", i*6, 255-i*6, i*3)
	}
	return append(tables,
		badFile{"symbols.csv", []byte(many.String() + "x\n"), nil},
		badFile{"colors.csv", []byte(colors.String() + "#000000\n"), nil},
		badFile{"wide.csv", []byte(strings.Repeat("x,", 2500) + "x\n"), nil},
		badFile{"tall.csv", []byte(strings.Repeat("x,.\n", 2500)), nil})
}

func TestBadFilesAreRefusedInOneLine(t *testing.T) {
	folder := t.TempDir()
	files := badFiles()
	assert.GreaterOrEqual(t, len(files), 58)
	for _, f := range files {
		t.Run(f.name, func(t *testing.T) {
			name := filepath.Join(folder, f.name)
			require.NoError(t, os.WriteFile(name, f.data, 0o600))
			got := runMain(t, frame.Env{}, append([]string{"chart", "import", name, "-o", filepath.Join(folder, "out.chart"), "--yes"}, f.flags...)...)
			assert.Equal(t, 3, got.code, got.err)
			assert.Empty(t, got.out)
			lines := strings.Split(strings.TrimRight(got.err, "\n"), "\n")
			require.Len(t, lines, 2, got.err)
			assert.True(t, strings.HasPrefix(lines[0], "strandwise: "+name+": "), lines[0])
			assert.True(t, strings.HasPrefix(lines[1], "  try: "), lines[1])
			assert.NoFileExists(t, filepath.Join(folder, "out.chart"))
		})
	}
}

// TestOddFilesAreRead has what is unusual and can be read all the same.
func TestOddFilesAreRead(t *testing.T) {
	deep := image.NewNRGBA64(image.Rect(0, 0, 6, 4))
	gray := image.NewGray(image.Rect(0, 0, 6, 4))
	for y := range 4 {
		for x := range 6 {
			deep.Set(x, y, checkered(x, y))
			gray.Set(x, y, checkered(x, y))
		}
	}
	var twice bytes.Buffer
	picture := image.NewPaletted(image.Rect(0, 0, 6, 4), color.Palette{color.White, color.Black})
	picture.SetColorIndex(2, 2, 1)
	require.NoError(t, gif.EncodeAll(&twice, &gif.GIF{Image: []*image.Paletted{picture, picture}, Delay: []int{1, 1}}))
	for name, data := range map[string][]byte{
		"sixteen-bit.png": asPNG(deep), "gray.png": asPNG(gray), "palette.gif": asGIF(painted(6, 4, checkered)), "moving.gif": twice.Bytes(),
		"bom.csv": []byte("\ufeffx,.,x\n.,x,.\n"), "crlf.csv": []byte("x,.\r\n.,x\r\n"), "wide.csv": []byte("海,.\n.,海\n"), "quoted.csv": []byte("\"x\",\".\"\n"),
		"words.csv": []byte("oat;fjord\n"), "copied.tsv": []byte("navy\t#fff\n"), "utf-16": []byte("\xff\xfex\x00\t\x00.\x00\n\x00"),
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			file := filepath.Join(folder, name)
			require.NoError(t, os.WriteFile(file, data, 0o600))
			got := runMain(t, frame.Env{}, "chart", "import", file)
			require.Zero(t, got.code, got.err)
			made := strings.TrimSuffix(file, filepath.Ext(file)) + ".chart"
			assert.FileExists(t, made)
			assert.Zero(t, runMain(t, frame.Env{}, "chart", "check", made).code)
		})
	}
}

func TestImportAsksWhereItGuessed(t *testing.T) {
	folder := t.TempDir()
	big := painted(80, 60, func(x, y int) color.Color { return checkered(x/10, y/10*3+x/20) })
	file := filepath.Join(folder, "big.png")
	require.NoError(t, os.WriteFile(file, asPNG(big), 0o600))
	got := runMain(t, frame.Env{}, "chart", "import", file)
	assert.Equal(t, 2, got.code, "nobody can answer")
	assert.Contains(t, got.err, "found by where")
	assert.NoFileExists(t, filepath.Join(folder, "big.chart"))
	assert.Zero(t, runMain(t, frame.Env{}, "chart", "import", file, "--dry-run").code)
	assert.NoFileExists(t, filepath.Join(folder, "big.chart"))
	assert.Zero(t, runMain(t, frame.Env{}, "chart", "import", file, "--yes").code)
	assert.FileExists(t, filepath.Join(folder, "big.chart"))
	assert.Equal(t, 1, runMain(t, frame.Env{}, "chart", "import", file, "--yes").code, "an existing file is kept")
	got = runMain(t, frame.Env{}, "chart", "import", file, "--yes", "--force", "--json")
	require.Zero(t, got.code, got.err)
	var body answer.Import
	require.NoError(t, json.Unmarshal([]byte(got.out), &body))
	assert.Equal(t, []int{8, 6}, []int{body.Columns, body.Rows})
	assert.True(t, body.Written)
}

// TestIconsNobodyHereDrew imports, checks and plans ten icons of the Debian package
// tango-icon-theme; netpbm, a decoder of its own, must agree on every pixel.
func TestIconsNobodyHereDrew(t *testing.T) {
	const theme = "/usr/share/icons/Tango"
	if _, err := os.Stat(theme); err != nil {
		t.Skip("the icons of the Debian package tango-icon-theme are not installed")
	}
	for icon, yarns := range map[string]string{
		"16x16/apps/internet-mail.png": "4", "16x16/apps/file-manager.png": "3", "16x16/apps/accessories-calculator.png": "4",
		"22x22/apps/internet-group-chat.png": "16", "22x22/places/folder.png": "3", "24x24/actions/go-home.png": "5",
		"24x24/devices/printer.png": "6", "16x16/apps/help-browser.png": "4", "32x32/actions/go-next.png": "3", "32x32/places/folder.png": "2",
	} {
		t.Run(icon, func(t *testing.T) {
			t.Parallel()
			made := filepath.Join(t.TempDir(), "icon.chart")
			got := runMain(t, frame.Env{}, "chart", "import", filepath.Join(theme, icon), "-o", made, "--yes", "--yarns", yarns)
			require.Zero(t, got.code, got.err)
			require.Zero(t, runMain(t, frame.Env{}, "chart", "check", made).code)
			require.Zero(t, runMain(t, frame.Env{}, "floats", made).code)
			agrees(t, filepath.Join(theme, icon), made)
		})
	}
}

// agrees compares a chart with the pixels netpbm decodes: where the picture has few
// enough colors to be taken exactly, all colors; else which pixels are stitches.
func agrees(t *testing.T, picture, made string) {
	t.Helper()
	if _, err := exec.LookPath("pngtopam"); err != nil {
		t.Log("pngtopam of the Debian package netpbm is not installed: pixels not compared")
		return
	}
	pam, err := exec.Command("pngtopam", "-alphapam", picture).Output()
	require.NoError(t, err)
	head, pixels, found := bytes.Cut(pam, []byte("ENDHDR\n"))
	require.True(t, found)
	var w, h, depth int
	_, err = fmt.Sscanf(string(head), "P7\nWIDTH %d\nHEIGHT %d\nDEPTH %d\n", &w, &h, &depth)
	require.NoError(t, err)
	require.Equal(t, 4, depth)
	text, err := os.ReadFile(made)
	require.NoError(t, err)
	c, err := chart.Parse(made, text)
	require.NoError(t, err)
	top := 0
	for top < h && !anyStitch(pixels[top*w*4:][:w*4]) {
		top++ // rows of nothing at the top are left out
	}
	colors := map[chart.Color]bool{}
	for i := 0; i < len(pixels); i += 4 {
		if pixels[i+3] > 127 {
			colors[chart.Color{R: pixels[i], G: pixels[i+1], B: pixels[i+2]}] = true
		}
	}
	for row := 1; row <= c.Height(); row++ {
		for i, cell := range c.Cells(row) {
			p := pixels[((top+c.Height()-row)*w+w-1-i)*4:]
			require.Equal(t, p[3] <= 127, cell.IsEmpty(), "row %d column %d", row, i+1)
			if !cell.IsEmpty() && len(colors) <= 16 {
				require.Equal(t, chart.Color{R: p[0], G: p[1], B: p[2]}, c.Yarns[cell.Yarn].Color)
			}
		}
	}
}

func anyStitch(line []byte) bool {
	for i := 3; i < len(line); i += 4 {
		if line[i] > 127 {
			return true
		}
	}
	return false
}
