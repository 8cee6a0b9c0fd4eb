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

// Parcel is the contents of an export that is whole and sound, with the line each thing
// stands on.
type Parcel struct {
	Name     string // of the file, for messages
	Counts   Counts
	Charts   []ParcelChart
	Settings []ParcelSetting
	Pieces   []*ParcelPiece
}

// ParcelChart is one chart as it was read.
type ParcelChart struct {
	Hash  Hash
	Bytes []byte
	Line  int
}

// ParcelSetting is one setting.
type ParcelSetting struct {
	Name  string
	Value []byte
	Line  int
}

// ParcelPiece is one piece with its log.
type ParcelPiece struct {
	UID     UID
	Info    []byte
	Line    int
	Records []Record
	Lines   []int // of the records
	place   int   // among the pieces
}

// tail is the place of the last event.
func (p *ParcelPiece) tail() Mark {
	if len(p.Records) == 0 {
		return Mark{}
	}
	return p.Records[len(p.Records)-1].Mark()
}

// Bad is the error that something at a line of the file cannot be taken in.
func (p *Parcel) Bad(line int, format string, args ...any) error {
	return &Error{
		Class: ClassBadInput,
		Path:  p.Name,
		Line:  line,
		What:  fmt.Sprintf(format, args...),
		Next:  "export the store again and copy the file anew",
	}
}

// lineOrder is the order in which kinds of lines come.
var lineOrder = map[string]int{"header": 1, "chart": 2, "setting": 3, "piece": 4, "event": 5, "end": 6}

// longestLine bounds a line, so that a file that is none of ours is not read into
// memory whole.
const longestLine = 64 << 20

// parser reads an export line by line.
type parser struct {
	number int       // of the line being read, from 1
	rank   int       // of the last line's kind
	text   hash.Hash // of the lines read so far
	parcel Parcel
	byUID  map[UID]*ParcelPiece
	latest int // place of the piece of the last event
}

// ReadParcel reads a whole export. Every error is of ClassBadInput and names the line.
func ReadParcel(r io.Reader, name string) (*Parcel, error) {
	p := &parser{parcel: Parcel{Name: name}, text: sha256.New(), byUID: map[UID]*ParcelPiece{}}
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
	return p.parcel.Bad(p.number, format, args...)
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
		return p.setting(l, data)
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

// chart checks a chart against its hash. Charts come in the order of those.
func (p *parser) chart(l line, data []byte) error {
	sum := Hash(sha256.Sum256(data))
	if hex.EncodeToString(sum[:]) != l.Hash {
		return p.bad("the chart does not match its hash")
	}
	if n := len(p.parcel.Charts); n > 0 && bytes.Compare(p.parcel.Charts[n-1].Hash[:], sum[:]) >= 0 {
		return p.bad("the chart stands there twice, or not in its place")
	}
	p.parcel.Counts.Charts++
	p.parcel.Charts = append(p.parcel.Charts, ParcelChart{sum, data, p.number})
	return nil
}

// setting takes a setting. They come in the order of their names.
func (p *parser) setting(l line, data []byte) error {
	if n := len(p.parcel.Settings); l.Name == "" || n > 0 && p.parcel.Settings[n-1].Name >= l.Name {
		return p.bad("the setting has no name, stands there twice, or not in its place")
	}
	p.parcel.Counts.Settings++
	p.parcel.Settings = append(p.parcel.Settings, ParcelSetting{l.Name, data, p.number})
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
	piece := &ParcelPiece{UID: uid, Info: data, Line: p.number, place: len(p.parcel.Pieces)}
	p.byUID[uid] = piece
	p.parcel.Counts.Pieces++
	p.parcel.Pieces = append(p.parcel.Pieces, piece)
	return nil
}

// event adds an event, whose chain must hold. The logs come in the order of their pieces.
func (p *parser) event(l line, data []byte) error {
	uid, err := p.uid(l)
	if err != nil {
		return err
	}
	piece := p.byUID[uid]
	if piece == nil {
		return p.bad("the event belongs to no piece of this file")
	}
	if piece.place < p.latest {
		return p.bad("the event does not belong here: another piece's came before it")
	}
	p.latest = piece.place
	before := piece.tail()
	if l.Seq != before.Seq+1 {
		return p.bad("event %d of the piece was expected here, not %d", before.Seq+1, l.Seq)
	}
	r, ok := l.record(data)
	if !ok {
		return p.bad("the event lacks its kind, its time or its zone")
	}
	if _, r.CRC = encodeEvent(uid, before.CRC, r); fmt.Sprintf("%08x", r.CRC) != l.Chain {
		return p.bad("the event does not continue the one before it")
	}
	piece.Records, piece.Lines = append(piece.Records, r), append(piece.Lines, p.number)
	p.parcel.Counts.Events++
	return nil
}

// daySeconds bounds a zone: none is a day away.
const daySeconds = 24 * 60 * 60

// record is the event of a line; ok is false when something of it is missing or can be none.
func (l line) record(data []byte) (r Record, ok bool) {
	at, err := time.Parse(time.RFC3339Nano, l.Time)
	if err != nil || l.Kind == nil || l.Zone == nil || max(*l.Zone, -*l.Zone) >= daySeconds {
		return r, false
	}
	r = Record{Seq: l.Seq, Kind: *l.Kind, Time: at.In(zoneAt(int32(*l.Zone))), Payload: data}
	return r, at.UTC().Format(time.RFC3339Nano) == l.Time
}

// end holds the counts and the sum of all lines against what was read.
func (p *parser) end(l line) error {
	if l.Counts == nil || *l.Counts != p.parcel.Counts {
		return p.bad("the counts in the last line are not those of the file")
	}
	if hex.EncodeToString(p.text.Sum(nil)) != l.SHA256 {
		return p.bad("the lines before do not match the SHA-256 in the last line")
	}
	return nil
}
