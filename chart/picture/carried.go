package picture

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"html"
	"strings"

	"strandwise/chart"
)

// A picture drawn from a chart carries the chart, so that it is read back as it was: symbols,
// names and techniques too, which no pixels tell. A PNG has it in an international text chunk
// (PNG specification, third edition, 11.3.3.4) behind its header, an SVG in a metadata element
// (SVG 1.1, 21) at its end, each with the checksum of the chart and the rest of the file.
// Where that is another, the picture was changed since, and what it shows counts.
const (
	chartKeyword = "strandwise chart"
	metadataHead = `<metadata id="strandwise-chart" data-crc="`
	metadataTail = "</metadata>\n"
	svgTail      = "</svg>\n"
	pngHead      = "\x89PNG\r\n\x1a\n"
	pngFirst     = len(pngHead) + 25 // where the chunk behind the header begins
	chunkFrame   = 12                // bytes of a chunk's length, name and checksum
)

// Enclose puts a chart, without its comments, into the PNG picture or SVG drawing of it that
// the program wrote. Anything else is given back as it is.
func Enclose(picture []byte, c *chart.Chart) []byte {
	bare := *c
	bare.Comments = nil
	sum := checksum(bare.String(), picture)
	switch {
	case bytes.HasPrefix(picture, []byte(pngHead)) && len(picture) > pngFirst:
		text := chartKeyword + "\x00\x00\x00\x00\x00" + sum + "\n" + bare.String()
		return spliced(picture, pngFirst, pngChunk("iTXt", []byte(text)))
	case bytes.HasSuffix(picture, []byte(svgTail)):
		text := metadataHead + sum + `">` + html.EscapeString(bare.String()) + metadataTail
		return spliced(picture, len(picture)-len(svgTail), []byte(text))
	}
	return picture
}

// checksum is that of the chart and of the picture without it.
func checksum(text string, picture ...[]byte) string {
	sum := crc32.ChecksumIEEE([]byte(text))
	for _, part := range picture {
		sum = crc32.Update(sum, crc32.IEEETable, part)
	}
	return fmt.Sprintf("%08x", sum)
}

func pngChunk(name string, data []byte) []byte {
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	chunk = append(append(chunk, name...), data...)
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
}

func spliced(data []byte, at int, part []byte) []byte {
	return bytes.Join([][]byte{data[:at], part, data[at:]}, nil)
}

// enclosed is the chart a picture carries; nil when it has none, or was changed since.
func enclosed(picture []byte) *chart.Chart {
	from, to, text := enclosedPNG(picture)
	if bytes.HasSuffix(picture, []byte(svgTail)) {
		from, to, text = enclosedSVG(picture)
	}
	sum, body, _ := strings.Cut(text, "\n")
	if text == "" || sum != checksum(body, picture[:from], picture[to:]) {
		return nil
	}
	c, err := chart.Parse("picture", []byte(body))
	if err != nil {
		return nil
	}
	return c
}

// enclosedPNG finds the chunk with the chart, its checksum and the chart.
func enclosedPNG(picture []byte) (from, to int, text string) {
	if !bytes.HasPrefix(picture, []byte(pngHead)) || len(picture) < pngFirst+chunkFrame {
		return 0, 0, ""
	}
	length := int(binary.BigEndian.Uint32(picture[pngFirst:]))
	to = pngFirst + chunkFrame + length
	if length > chart.MaxBytes || to > len(picture) || string(picture[pngFirst+4:pngFirst+8]) != "iTXt" {
		return 0, 0, ""
	}
	text, _ = strings.CutPrefix(string(picture[pngFirst+8:to-4]), chartKeyword+"\x00\x00\x00\x00\x00")
	return pngFirst, to, text
}

// enclosedSVG does it for the metadata element.
func enclosedSVG(picture []byte) (from, to int, text string) {
	from = bytes.LastIndex(picture, []byte(metadataHead))
	to = len(picture) - len(svgTail)
	if from < 0 || !bytes.HasSuffix(picture[:to], []byte(metadataTail)) {
		return 0, 0, ""
	}
	inside := string(picture[from+len(metadataHead) : to-len(metadataTail)])
	sum, body, _ := strings.Cut(inside, `">`)
	return from, to, sum + "\n" + html.UnescapeString(body)
}

// importDrawn reads a picture that carries its chart; nil when it does not.
func importDrawn(data []byte, title string) (*chart.Chart, *Report) {
	c := enclosed(data)
	if c == nil {
		return nil, nil
	}
	report := &Report{Format: "SVG", Columns: c.Width(), Rows: c.Height(), Reading: Drawn, Colors: len(c.Yarns), Apart: len(c.Yarns)}
	if bytes.HasPrefix(data, []byte(pngHead)) {
		report.Format = "PNG"
		report.Width, report.Height = int(binary.BigEndian.Uint32(data[16:])), int(binary.BigEndian.Uint32(data[20:]))
	} else {
		report.Width, report.Height = svgSize(data)
	}
	if c.Title == "" {
		c.Title = title
	}
	return c, report
}

// svgSize is the size in the viewBox; 1 where it cannot be read.
func svgSize(data []byte) (width, height int) {
	var w, h float64
	_, box, _ := bytes.Cut(data[:min(len(data), 1000)], []byte(`viewBox="`))
	if n, _ := fmt.Sscanf(string(box), "0 0 %g %g", &w, &h); n != 2 {
		return 1, 1
	}
	return int(w), int(h)
}
