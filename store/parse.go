package store

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"time"
)

// parcel is the contents of an export that is whole and sound.
type parcel struct {
	charts   [][]byte
	settings []setting
	pieces   []*parcelPiece
	counts   Counts
}

// setting is one stored setting.
type setting struct {
	name  string
	value []byte
}

// parcelPiece is one piece with its log.
type parcelPiece struct {
	uid     UID
	info    []byte
	records []Record
}

// tail is the place of the last event.
func (p *parcelPiece) tail() Mark {
	if len(p.records) == 0 {
		return Mark{}
	}
	return p.records[len(p.records)-1].Mark()
}

// lineOrder is the order in which kinds of lines come.
var lineOrder = map[string]int{"header": 1, "chart": 2, "setting": 3, "piece": 4, "event": 5, "end": 6}

// longestLine bounds a line, so that a file that is none of ours is not read into
// memory whole.
const longestLine = 64 << 20

// parser reads an export line by line.
type parser struct {
	name   string
	number int       // of the line being read, from 1
	rank   int       // of the last line's kind
	text   hash.Hash // of the lines read so far
	parcel parcel
	byUID  map[UID]*parcelPiece
}

// parse reads a whole export. Every error is of ClassBadInput and names the line.
func parse(r io.Reader, name string) (*parcel, error) {
	p := &parser{name: name, text: sha256.New(), byUID: map[UID]*parcelPiece{}}
	in := bufio.NewReaderSize(r, 64<<10)
	for p.rank < lineOrder["end"] {
		p.number++
		text, err := readLine(in)
		switch {
		case errors.Is(err, io.EOF) && len(text) == 0:
			return nil, p.bad("the file ends before its last line")
		case errors.Is(err, io.EOF):
			return nil, p.bad("the line is cut short")
		case err != nil:
			return nil, p.bad("the line is too long, or cannot be read")
		}
		if err := p.line(text); err != nil {
			return nil, err
		}
	}
	if _, err := in.ReadByte(); !errors.Is(err, io.EOF) {
		p.number++
		return nil, p.bad("something follows the last line")
	}
	return &p.parcel, nil
}

// readLine reads to the next newline, which is part of the result.
func readLine(in *bufio.Reader) ([]byte, error) {
	var text []byte
	for {
		more, err := in.ReadSlice('\n')
		text = append(text, more...)
		if len(text) > longestLine {
			return nil, errors.New("it is too long")
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return text, err
		}
	}
}

// bad is an error at the present line.
func (p *parser) bad(format string, args ...any) error {
	return &Error{
		Class: ClassBadInput,
		Path:  p.name,
		Line:  p.number,
		What:  fmt.Sprintf(format, args...),
		Next:  "export the store again and copy the file anew",
	}
}

// line takes in one line.
func (p *parser) line(text []byte) error {
	l, fault := decodeLine(text)
	if fault != "" {
		if p.number == 1 {
			fault = "this is not an export of this program"
		}
		return p.bad("%s", fault)
	}
	rank := lineOrder[l.Line]
	if rank < p.rank || (p.number == 1) != (rank == 1) {
		return p.bad("a line of kind %q does not belong here", l.Line)
	}
	p.rank = rank
	if err := p.take(l); err != nil {
		return err
	}
	p.text.Write(text)
	return nil
}

// decodeLine reads a line that must match its CRC and be in the only form an
// export writes; fault says what is wrong.
func decodeLine(text []byte) (l line, fault string) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if d.Decode(&l) != nil {
		return l, "the line cannot be understood"
	}
	switch again, err := encodeLine(l); {
	case err != nil || !bytes.HasSuffix(again, fmt.Appendf(nil, "\"crc\":%q}\n", l.CRC)):
		return l, "the line does not match its checksum"
	case !bytes.Equal(again, text):
		return l, "the line is not in the form an export has"
	}
	return l, ""
}

// take puts a line's contents into the parcel.
func (p *parser) take(l line) error {
	data, ok := l.data()
	switch {
	case !ok:
		return p.bad("the line holds no readable data")
	case l.Line == "header":
		return p.header(l)
	case l.Line == "chart":
		return p.chart(l, data)
	case l.Line == "setting":
		p.parcel.counts.Settings++
		p.parcel.settings = append(p.parcel.settings, setting{l.Name, data})
		return nil
	case l.Line == "piece":
		return p.piece(l, data)
	case l.Line == "event":
		return p.event(l, data)
	case l.Line == "end":
		return p.end(l)
	}
	return p.bad("a line of kind %q is not known", l.Line)
}

// data decodes the base64 of a line that needs some.
func (l line) data() ([]byte, bool) {
	if l.Data == nil {
		return nil, l.Line == "header" || l.Line == "end"
	}
	data, err := base64.StdEncoding.DecodeString(*l.Data)
	return data, err == nil
}

// header accepts exports of the one format there is.
func (p *parser) header(l line) error {
	if l.File != exportName {
		return p.bad("this is not an export of this program")
	}
	if l.Format != exportFormat {
		return p.bad("the export has format %d and this program knows %d", l.Format, exportFormat)
	}
	return nil
}

// chart checks a chart against its hash.
func (p *parser) chart(l line, data []byte) error {
	if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != l.Hash {
		return p.bad("the chart does not match its hash")
	}
	p.parcel.counts.Charts++
	p.parcel.charts = append(p.parcel.charts, data)
	return nil
}

// uid reads the identity of a piece.
func (p *parser) uid(l line) (UID, error) {
	b, err := hex.DecodeString(l.Piece)
	if err != nil || len(b) != len(UID{}) {
		return UID{}, p.bad("%q is not the identity of a piece", l.Piece)
	}
	return UID(b), nil
}

// piece begins a piece.
func (p *parser) piece(l line, data []byte) error {
	uid, err := p.uid(l)
	if err != nil {
		return err
	}
	if p.byUID[uid] != nil {
		return p.bad("the piece %s stands there twice", l.Piece)
	}
	piece := &parcelPiece{uid: uid, info: data}
	p.byUID[uid] = piece
	p.parcel.counts.Pieces++
	p.parcel.pieces = append(p.parcel.pieces, piece)
	return nil
}

// event adds an event, whose chain must hold.
func (p *parser) event(l line, data []byte) error {
	uid, err := p.uid(l)
	if err != nil {
		return err
	}
	piece := p.byUID[uid]
	if piece == nil {
		return p.bad("the event belongs to no piece of this file")
	}
	before := piece.tail()
	at, err := time.Parse(time.RFC3339Nano, l.Time)
	if err != nil || l.Kind == nil || l.Zone == nil || *l.Zone != int(int32(*l.Zone)) {
		return p.bad("the event lacks its kind, its time or its zone")
	}
	if l.Seq != before.Seq+1 {
		return p.bad("event %d of the piece was expected here, not %d", before.Seq+1, l.Seq)
	}
	r := Record{Seq: l.Seq, Kind: *l.Kind, Time: at.In(zoneAt(int32(*l.Zone))), Payload: data}
	if _, r.CRC = encodeEvent(uid, before.CRC, r); fmt.Sprintf("%08x", r.CRC) != l.Chain {
		return p.bad("the event does not continue the one before it")
	}
	piece.records = append(piece.records, r)
	p.parcel.counts.Events++
	return nil
}

// end holds the counts and the sum of all lines against what was read.
func (p *parser) end(l line) error {
	if l.Counts == nil || *l.Counts != p.parcel.counts {
		return p.bad("the counts in the last line are not those of the file")
	}
	if hex.EncodeToString(p.text.Sum(nil)) != l.SHA256 {
		return p.bad("the lines before do not match the SHA-256 in the last line")
	}
	return nil
}
