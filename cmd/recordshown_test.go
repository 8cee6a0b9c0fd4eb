package cmd

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"html"
	"image"
	"image/draw"
	"image/png"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const (
	pdfReader = "pdftotext"
	pdfMark   = "pdf| "

	// wholeMost is how many bytes of a text a golden keeps whole, headLines how many lines
	// of a longer one; of the rest it keeps a sum for each chunkLines, which tells where
	// it differs.
	wholeMost  = 8 << 10
	headLines  = 12
	chunkLines = 40
)

// kept is a text as a golden keeps it: control characters to be seen, a JSON document
// laid out so that a difference is one line, a long text by its head and sums.
func kept(text string) string {
	if document, is := laidOutJSON(text); is {
		return abridged(document, 2*wholeMost)
	}
	return abridged(visible(text), 2*wholeMost)
}

var controls = strings.NewReplacer("\x1b", `\e`, "\r", `\r`, "\t", `\t`, "\a", `\a`, "\b", `\b`, "\x00", `\0`)

func visible(text string) string { return controls.Replace(text) }

// abridged keeps a text of at most so many bytes whole, and of a longer one its head, and
// the sum of each part of the rest.
func abridged(text string, most int) string {
	if len(text) <= most {
		return text
	}
	lines := strings.SplitAfter(text, "\n")
	head := min(headLines, len(lines))
	told := ""
	for _, line := range lines[:head] {
		told += cutLine(line)
	}
	told += fmt.Sprintf("... %d bytes, sha256 %x\n", len(text), sha256.Sum256([]byte(text)))
	for at := head; at < len(lines); at += chunkLines {
		end := min(at+chunkLines, len(lines))
		part := strings.Join(lines[at:end], "")
		told += fmt.Sprintf("... lines %d to %d: %.6x\n", at+1, end, sha256.Sum256([]byte(part)))
	}
	return told
}

// cutLine shortens a line that is very long.
func cutLine(line string) string {
	if most := 200; len(line) > most {
		return fmt.Sprintf("%s... (%d bytes)\n", strings.ToValidUTF8(line[:most], ""), len(line))
	}
	return line
}

// laidOutJSON is a JSON document with one member a line where it is long.
func laidOutJSON(text string) (string, bool) {
	doc := strings.TrimSuffix(text, "\n")
	if !strings.HasPrefix(doc, "{") || strings.Contains(doc, "\n") || !json.Valid([]byte(doc)) {
		return "", false
	}
	return valueLines(json.RawMessage(doc), "") + "\n", true
}

// valueLines writes a value on one line if it is short, else each member on its own.
func valueLines(value json.RawMessage, indent string) string {
	if len(indent)+len(value) <= 100 || (value[0] != '{' && value[0] != '[') {
		return string(value)
	}
	d := json.NewDecoder(bytes.NewReader(value))
	open, _ := d.Token()
	deeper := indent + "  "
	var members []string
	for d.More() {
		member := deeper
		if open == json.Delim('{') {
			key, _ := d.Token()
			member += fmt.Sprintf("%q: ", key)
		}
		var inner json.RawMessage
		_ = d.Decode(&inner)
		members = append(members, member+valueLines(inner, deeper))
	}
	return string(value[0]) + "\n" + strings.Join(members, ",\n") + "\n" + indent + string(value[len(value)-1])
}

// shownFile is what a golden keeps of a file: its text, the sum of its pixels, or the
// words of its pages.
func shownFile(t *testing.T, path, data string) string {
	t.Helper()
	switch filepath.Ext(path) {
	case ".png":
		return "| " + pixelSum(t, data) + "\n"
	case ".pdf":
		return fmt.Sprintf("| PDF of %d bytes, sha256 %x\n", len(data), sha256.Sum256([]byte(data))) + pageWords(t, path)
	case ".html":
		return behind("| ", abridged(visible(data), wholeMost)) + behind("words| ", abridged(htmlWords(data), wholeMost))
	}
	return behind("| ", abridged(visible(data), wholeMost))
}

var (
	unread  = regexp.MustCompile(`(?s)<style.*?</style>|<svg.*?</svg>`)
	opening = regexp.MustCompile(`<(?:p|h\d|li|tr|div|section|article|figure|table|dt|dd|label|ol|ul)\b`)
	tag     = regexp.MustCompile(`<[^>]*>`)
)

// htmlWords are the words of a page, a line for each paragraph, without its drawings.
func htmlWords(page string) (told string) {
	page = opening.ReplaceAllString(unread.ReplaceAllString(page, ""), "\n$0")
	for line := range strings.Lines(html.UnescapeString(tag.ReplaceAllString(page, " "))) {
		if fields := strings.Fields(line); len(fields) > 0 {
			told += strings.Join(fields, " ") + "\n"
		}
	}
	return told
}

// pixelSum tells the size of a picture and the sum of its pixels, whatever packed them.
func pixelSum(t *testing.T, data string) string {
	t.Helper()
	picture, err := png.Decode(strings.NewReader(data))
	require.NoError(t, err)
	b := picture.Bounds()
	plain := image.NewNRGBA(b)
	draw.Draw(plain, b, picture, b.Min, draw.Src)
	return fmt.Sprintf("PNG of %d x %d pixels, sha256 of the pixels %x", b.Dx(), b.Dy(), sha256.Sum256(plain.Pix))
}

// pageWords are the words of a PDF in the order of its pages, or nothing where there is
// nothing to read them with.
func pageWords(t *testing.T, path string) string {
	t.Helper()
	reader, err := exec.LookPath(pdfReader)
	if err != nil {
		return ""
	}
	text, err := exec.Command(reader, path, "-").Output()
	require.NoError(t, err)
	told := ""
	for line := range strings.Lines(strings.ReplaceAll(string(text), "\f", "\n")) {
		if fields := strings.Fields(line); len(fields) > 0 {
			told += strings.Join(fields, " ") + "\n"
		}
	}
	return behind(pdfMark, abridged(told, wholeMost))
}

// behind puts a mark in front of every line.
func behind(mark, text string) (marked string) {
	for line := range strings.Lines(text) {
		marked += mark + strings.TrimSuffix(line, "\n") + "\n"
	}
	return marked
}
