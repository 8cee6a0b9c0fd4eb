package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

var noon = time.Date(2031, 3, 9, 12, 0, 0, 0, time.UTC)

// written is a document's bytes.
func written(t testing.TB, d *Document) []byte {
	t.Helper()
	var b bytes.Buffer
	n, err := d.WriteTo(&b)
	require.NoError(t, err)
	require.EqualValues(t, b.Len(), n)
	return b.Bytes()
}

// harbor is a document of two pages with text in two fonts.
func harbor(t testing.TB) *Document {
	t.Helper()
	d := New(100, 50, About{Title: "Pier (east) \\ Kai é", Language: "en-US", Made: noon})
	regular, err := d.AddFont(goregular.TTF)
	require.NoError(t, err)
	bold, err := d.AddFont(gobold.TTF)
	require.NoError(t, err)
	for n := range 2 {
		p := d.AddPage()
		p.Text(regular, 4, 10, 20, fmt.Sprint("Blåbær (at) pier \\ ", n))
		p.Text(bold, 6, 10, 30, "Señal, Łódź, žluť, Tür")
		p.Text(regular, 4, 10, 40, "harbor 港灣 light")
	}
	return d
}

// object is an indirect object as it was read back.
type object struct{ entries, stream string }

// read finds the objects of a document through its cross-reference table, as ISO 32000-1,
// 7.5.4 and 7.5.5 say, and holds every byte to account: objects follow each other from the
// header to the table, and streams are as long as they say (7.3.8.2).
func read(t testing.TB, document []byte) (objects map[int]object, trailer string) {
	t.Helper()
	text := string(document)
	end := regexp.MustCompile(`(?s)\ntrailer\n(<<.*>>)\nstartxref\n(\d+)\n%%EOF\n$`).FindStringSubmatchIndex(text)
	require.NotNil(t, end)
	table, err := strconv.Atoi(text[end[4]:end[5]])
	require.NoError(t, err)
	first, rest, _ := strings.Cut(text[table:end[0]+1], "\n0000000000 65535 f \n")
	count := len(rest)/20 + 1
	require.Equal(t, fmt.Sprintf("xref\n0 %d", count), first)
	require.Equal(t, (count-1)*20, len(rest), "entries are of 20 bytes")
	objects = map[int]object{}
	total := len("%PDF-1.7\n") + 6
	for n := 1; n < count; n++ {
		entry := rest[(n-1)*20 : n*20]
		require.Regexp(t, `^\d{10} 00000 n \n$`, entry)
		place, err := strconv.Atoi(entry[:10])
		require.NoError(t, err)
		o, length := readObject(t, text[place:table], n)
		objects[n], total = o, total+length
	}
	require.Equal(t, table, total, "nothing lies between objects")
	return objects, text[end[2]:end[3]]
}

var (
	lengthEntry = regexp.MustCompile(`^<< /Length (\d+) /Filter /FlateDecode`)
	streamMark  = " >>\nstream\n"
)

func readObject(t testing.TB, text string, n int) (object, int) {
	t.Helper()
	begin := fmt.Sprintf("%d 0 obj\n", n)
	require.True(t, strings.HasPrefix(text, begin), "object %d is where the table says", n)
	body := text[len(begin):]
	found := lengthEntry.FindStringSubmatch(body)
	if found == nil {
		body, _, _ = strings.Cut(body, "\nendobj\n")
		return object{entries: body}, len(begin + body + "\nendobj\n")
	}
	length, err := strconv.Atoi(found[1])
	require.NoError(t, err)
	at := strings.Index(body, streamMark) + len(streamMark)
	require.True(t, strings.HasPrefix(body[at+length:], "\nendstream\nendobj\n"), "the stream of object %d is as long as it says", n)
	r, err := zlib.NewReader(strings.NewReader(body[at : at+length]))
	require.NoError(t, err)
	inflated, err := io.ReadAll(r)
	require.NoError(t, err)
	return object{body[:at-len(streamMark)] + " >>", string(inflated)}, len(begin) + at + length + len("\nendstream\nendobj\n")
}

// The places are counted by hand: the header takes 9+6 bytes, object 1 takes 8 for its number,
// 48 for its dictionary and 8 for its end.
func TestTinyDocument(t *testing.T) {
	d := New(25.4, 50.8, About{Title: "A", Language: "en-US", Made: noon})
	p := d.AddPage()
	p.Rectangle(1, 2, 3, 4)
	p.Paint(true, false)
	document := written(t, d)
	objects, trailer := read(t, document)
	assert.True(t, bytes.HasPrefix(document, []byte("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n")), "7.5.2")
	assert.Equal(t, map[int]object{
		1: {entries: "<< /Type /Catalog /Pages 3 0 R /Lang (en-US) >>"},
		2: {entries: "<< /Title (\xfe\xff\x00A) /CreationDate (D:20310309120000Z) /ModDate (D:20310309120000Z) >>"},
		3: {entries: "<< /Type /Pages /Kids [ 4 0 R ] /Count 1 /MediaBox [0 0 72 144] /Resources << /Font << >> >> >>"},
		4: {entries: "<< /Type /Page /Parent 3 0 R /Contents 5 0 R >>"},
		5: {objects[5].entries, "2.83464567 0 0 -2.83464567 0 144 cm\n1 2 3 4 re\nf\n"},
	}, objects)
	assert.Contains(t, string(document), "xref\n0 6\n0000000000 65535 f \n0000000015 00000 n \n0000000078 00000 n \n")
	assert.Regexp(t, `^<< /Size 6 /Root 1 0 R /Info 2 0 R /ID \[<([0-9a-f]{32})> <([0-9a-f]{32})>\] >>$`, trailer)
}

func TestDocumentWithoutPagesHasOne(t *testing.T) {
	d := New(10, 10, About{})
	objects, _ := read(t, written(t, d))
	assert.Contains(t, objects[3].entries, "/Count 1 ")
	assert.Len(t, d.Pages(), 1)
}

func TestSameCallsSameBytes(t *testing.T) {
	assert.Equal(t, written(t, harbor(t)), written(t, harbor(t)))
	d := harbor(t)
	assert.Equal(t, written(t, d), written(t, d), "a document can be written again")
}

var idEntry = regexp.MustCompile(`/ID \[<[0-9a-f]+>`)

func TestOtherDocumentsHaveOtherIdentifiers(t *testing.T) {
	d, other := harbor(t), harbor(t)
	other.Pages()[1].Circle(1, 1, 1)
	_, trailer := read(t, written(t, d))
	_, of := read(t, written(t, other))
	assert.NotEqual(t, idEntry.FindString(trailer), idEntry.FindString(of))
}

// failing is a writer that fails.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestWriteErrorsComeBack(t *testing.T) {
	_, err := harbor(t).WriteTo(failing{})
	assert.ErrorIs(t, err, io.ErrShortWrite)
}
