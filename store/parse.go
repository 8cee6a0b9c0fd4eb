package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"time"
)

// lineKinds are the kinds of lines in the order they come, each with what takes it in.
var lineKinds = []lineKind{
	{"header", (*parser).header},
	{"chart", (*parser).chart},
	{"setting", (*parser).setting},
	{"piece", (*parser).piece},
	{"event", (*parser).event},
	{"end", (*parser).end},
}

type lineKind struct {
	name string
	take func(*parser, line) error
}

type parser struct {
	number int    // of the line being read, from 1
	rank   int    // of the last line's kind
	before []byte // the lines read so far
	parcel Parcel
	places map[UID]int // of the pieces
	latest int         // place of the piece of the last event
}

// ReadParcel reads a whole export. Every error is of ClassBadInput and names the line.
func ReadParcel(text []byte, name string) (*Parcel, error) {
	p := &parser{parcel: Parcel{Name: name}, places: map[UID]int{}}
	for l := range bytes.Lines(text) {
		p.number++
		switch {
		case p.rank == len(lineKinds)-1:
			return nil, p.bad("something follows the last line")
		case !bytes.HasSuffix(l, []byte("\n")):
			return nil, p.bad("the line is cut short")
		}
		if err := p.line(l); err != nil {
			return nil, err
		}
		p.before = text[:len(p.before)+len(l)]
	}
	if p.rank < len(lineKinds)-1 {
		p.number++
		return nil, p.bad("the file ends before its last line")
	}
	return &p.parcel, nil
}

func (p *parser) bad(format string, args ...any) error {
	return p.parcel.Bad(p.number, format, args...)
}

// line takes in one line, which must match its CRC and be in the only form an export writes.
func (p *parser) line(text []byte) error {
	var l line
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	err := d.Decode(&l)
	again := encodeLine(l)
	switch {
	case p.number == 1 && (err != nil || !bytes.Equal(again, text)):
		return p.bad("this is not an export of this program")
	case err != nil:
		return p.bad("the line cannot be understood")
	case !bytes.HasSuffix(again, fmt.Appendf(nil, "\"crc\":%q}\n", l.CRC)):
		return p.bad("the line does not match its checksum")
	case !bytes.Equal(again, text):
		return p.bad("the line is not in the form an export has")
	}
	rank := slices.IndexFunc(lineKinds, func(k lineKind) bool { return k.name == l.Line })
	if rank < p.rank || (p.number == 1) != (rank == 0) {
		return p.bad("a line of kind %q does not belong here", l.Line)
	}
	if l.Data == nil && rank > 0 && rank < len(lineKinds)-1 {
		return p.bad("the line holds no readable data")
	}
	p.rank = rank
	return lineKinds[rank].take(p, l)
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
func (p *parser) chart(l line) error {
	hash := Hash(sha256.Sum256(*l.Data))
	if hex.EncodeToString(hash[:]) != l.Hash {
		return p.bad("the chart does not match its hash")
	}
	if n := len(p.parcel.Charts); n > 0 && bytes.Compare(p.parcel.Charts[n-1].Hash[:], hash[:]) >= 0 {
		return p.bad("the chart stands there twice, or not in its place")
	}
	p.parcel.Charts = append(p.parcel.Charts, ParcelChart{hash, *l.Data, p.number})
	return nil
}

// setting takes a setting. They come in the order of their names.
func (p *parser) setting(l line) error {
	if n := len(p.parcel.Settings); l.Name == "" || n > 0 && p.parcel.Settings[n-1].Name >= l.Name {
		return p.bad("the setting has no name, stands there twice, or not in its place")
	}
	p.parcel.Settings = append(p.parcel.Settings, ParcelSetting{l.Name, *l.Data, p.number})
	return nil
}

func (p *parser) uid(l line) (UID, error) {
	b, err := hex.DecodeString(l.Piece)
	if err != nil || len(b) != len(UID{}) {
		return UID{}, p.bad("%q is not the identity of a piece", l.Piece)
	}
	return UID(b), nil
}

func (p *parser) piece(l line) error {
	uid, err := p.uid(l)
	if err != nil {
		return err
	}
	if _, twice := p.places[uid]; twice {
		return p.bad("the piece %s stands there twice", l.Piece)
	}
	p.places[uid] = len(p.parcel.Pieces)
	p.parcel.Pieces = append(p.parcel.Pieces, &ParcelPiece{UID: uid, Info: *l.Data, Line: p.number})
	return nil
}

// event adds an event, whose chain must hold. The logs come in the order of their pieces.
func (p *parser) event(l line) error {
	uid, err := p.uid(l)
	if err != nil {
		return err
	}
	place, known := p.places[uid]
	if !known {
		return p.bad("the event belongs to no piece of this file")
	}
	if place < p.latest {
		return p.bad("the event does not belong here: another piece's came before it")
	}
	p.latest = place
	piece := p.parcel.Pieces[place]
	before := piece.tail()
	if l.Seq != before.Seq+1 {
		return p.bad("event %d of the piece was expected here, not %d", before.Seq+1, l.Seq)
	}
	r, ok := l.record()
	if !ok {
		return p.bad("the event lacks its kind, its time or its zone")
	}
	if r.CRC = crcOf(encodeEvent(uid, before.CRC, r)); fmt.Sprintf("%08x", r.CRC) != l.Chain {
		return p.bad("the event does not continue the one before it")
	}
	piece.Records, piece.Lines = append(piece.Records, r), append(piece.Lines, p.number)
	return nil
}

// daySeconds bounds a zone: none is a day away.
const daySeconds = 24 * 60 * 60

// record is the event of a line; ok is false when something of it is missing or can be none.
func (l line) record() (r Record, ok bool) {
	at, err := time.Parse(time.RFC3339Nano, l.Time)
	if err != nil || l.Kind == nil || l.Zone == nil || max(*l.Zone, -*l.Zone) >= daySeconds {
		return r, false
	}
	r = Record{Seq: l.Seq, Kind: *l.Kind, Time: at.In(zoneAt(int32(*l.Zone))), Payload: *l.Data}
	return r, at.UTC().Format(time.RFC3339Nano) == l.Time
}

// end holds the counts and the sum of all lines against what was read.
func (p *parser) end(l line) error {
	if l.Counts == nil || *l.Counts != p.parcel.counts() {
		return p.bad("the counts in the last line are not those of the file")
	}
	if sum := sha256.Sum256(p.before); hex.EncodeToString(sum[:]) != l.SHA256 {
		return p.bad("the lines before do not match the SHA-256 in the last line")
	}
	return nil
}
