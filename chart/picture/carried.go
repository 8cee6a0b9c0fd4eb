package picture

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"html"
	"slices"
	"strings"

	"strandwise/chart"
)

// A picture drawn from a chart carries the chart, so that it is read back as it was, with names and techniques, which
// no pixels tell. A PNG has it in an international text chunk (PNG specification, third edition, 11.3.3.4) behind its
// header, an SVG in a metadata element (SVG 1.1, 21) at its end, each with the checksum of the chart and the rest of
// the file. Where that is another, the picture was changed since, and what it shows counts.
const (
	chunkHead    = "iTXtstrandwise chart\x00\x00\x00\x00\x00"
	metadataHead = `<metadata id="strandwise-chart" data-crc="`
	metadataTail = "</metadata>\n"
	svgTail      = "</svg>\n"
	pngHead      = "\x89PNG\r\n\x1a\n"
	pngFirst     = len(pngHead) + 25 // where the chunk behind the header begins
)

// Enclose puts a chart, without its comments, into the PNG or SVG of it that the program wrote; else it changes
// nothing.
func Enclose(picture []byte, c *chart.Chart) []byte {
	bare := *c
	bare.Comments = nil
	text := bare.String()
	sum := checksum(text, picture)
	switch {
	case bytes.HasPrefix(picture, []byte(pngHead)) && len(picture) > pngFirst:
		chunk := []byte(chunkHead + sum + "\n" + text)
		framed := binary.BigEndian.AppendUint32(nil, uint32(len(chunk)-4)) // its name is not counted
		framed = binary.BigEndian.AppendUint32(append(framed, chunk...), crc32.ChecksumIEEE(chunk))
		return slices.Insert(slices.Clone(picture), pngFirst, framed...)
	case bytes.HasSuffix(picture, []byte(svgTail)):
		element := metadataHead + sum + `">` + html.EscapeString(text) + metadataTail
		return slices.Insert(slices.Clone(picture), len(picture)-len(svgTail), []byte(element)...)
	}
	return picture
}

func checksum(text string, picture ...[]byte) string {
	sum := crc32.ChecksumIEEE([]byte(text))
	for _, part := range picture {
		sum = crc32.Update(sum, crc32.IEEETable, part)
	}
	return fmt.Sprintf("%08x", sum)
}

// importDrawn gives the chart a picture carries; nil when it has none, or was changed since.
func importDrawn(picture []byte, title string) (*chart.Chart, *Report) {
	report := &Report{Reading: Drawn}
	var from, to int
	var sum, text string
	if bytes.HasPrefix(picture, []byte(pngHead)) {
		from = bytes.Index(picture, []byte(chunkHead)) - 4
		if from < 0 || int64(from)+12+int64(binary.BigEndian.Uint32(picture[from:])) > int64(len(picture)) {
			return nil, nil
		}
		to = from + 12 + int(binary.BigEndian.Uint32(picture[from:]))
		chunk, _ := strings.CutPrefix(string(picture[from+4:to-4]), chunkHead)
		sum, text, _ = strings.Cut(chunk, "\n")
		report.Format, report.Width, report.Height = "PNG", int(binary.BigEndian.Uint32(picture[16:])), int(binary.BigEndian.Uint32(picture[20:]))
	} else {
		from, to = bytes.LastIndex(picture, []byte(metadataHead)), len(picture)-len(svgTail)
		if from < 0 || !bytes.HasSuffix(picture, []byte(metadataTail+svgTail)) {
			return nil, nil
		}
		inside := string(picture[from+len(metadataHead) : to-len(metadataTail)])
		sum, text, _ = strings.Cut(inside, `">`)
		text = html.UnescapeString(text)
		width, height := 1., 1. // where the size cannot be read
		_, box, _ := bytes.Cut(picture[:min(len(picture), 1000)], []byte(`viewBox="`))
		_, _ = fmt.Sscanf(string(box), "0 0 %g %g", &width, &height)
		report.Format, report.Width, report.Height = "SVG", int(width), int(height)
	}
	if sum != checksum(text, picture[:from], picture[to:]) {
		return nil, nil
	}
	c, err := chart.Parse("picture", []byte(text))
	if err != nil {
		return nil, nil
	}
	report.Columns, report.Rows, report.Colors, report.Apart = c.Width(), c.Height(), len(c.Yarns), len(c.Yarns)
	c.Title = cmp.Or(c.Title, title)
	return c, report
}
