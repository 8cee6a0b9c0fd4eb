package store

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"time"
)

// An export is UTF-8 text, one JSON object a line. Every line ends in its own CRC-32C, taken over
// all of the line before `,"crc"`; the last line holds counts and the SHA-256 of all lines before
// it. In order: a header, the charts by hash, the settings by name, the pieces in the order they
// were made, and the events by piece and number. Nothing in it depends on which store it was made
// from or when, so that export, import into an empty store, export gives the same bytes.
const exportName = "strandwise export"

const exportFormat = 1

// line is every kind of line; what a kind does not use is left out.
type line struct {
	Line   string  `json:"line"` // header, chart, setting, piece, event, end
	File   string  `json:"file,omitempty"`
	Format int     `json:"format,omitempty"`
	Hash   string  `json:"hash,omitempty"`
	Name   string  `json:"name,omitempty"`
	Piece  string  `json:"piece,omitempty"`
	Seq    uint64  `json:"seq,omitempty"`
	Kind   *uint16 `json:"kind,omitempty"`
	Time   string  `json:"time,omitempty"`
	Zone   *int    `json:"zone,omitempty"` // seconds east, kept apart since RFC 3339 knows minutes only
	Chain  string  `json:"chain,omitempty"`
	Data   *[]byte `json:"data,omitempty"` // no bytes are an empty text, not none
	Counts *Counts `json:"counts,omitempty"`
	SHA256 string  `json:"sha256,omitempty"`
}

// Export writes everything but the cache. It verifies every byte first, or writes nothing. The store
// is closed again before the writing begins, which may wait for whoever reads.
func (s *Store) Export(ctx context.Context, w io.Writer) (Counts, error) {
	var p *Parcel
	err := s.run(ctx, verifyLimit, false, func(tx *Tx) error {
		err := tx.wholly()
		p = tx.gather(func(fault error) { err = cmp.Or(err, fault) })
		return err
	})
	if err != nil {
		return Counts{}, err
	}
	_, err = w.Write(bytes.Join(p.lines(), nil))
	return p.counts(), err
}

func (p *Parcel) lines() (all [][]byte) {
	sum := sha256.New()
	put := func(l line) {
		var b bytes.Buffer
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		_ = e.Encode(l) // a struct of texts and numbers always can be
		text := sealLine(bytes.TrimSuffix(b.Bytes(), []byte("}\n")))
		sum.Write(text)
		all = append(all, text)
	}
	put(line{Line: "header", File: exportName, Format: exportFormat})
	for _, chart := range p.Charts {
		put(line{Line: "chart", Hash: hex.EncodeToString(chart.Hash[:]), Data: whole(chart.Bytes)})
	}
	for _, setting := range p.Settings {
		put(line{Line: "setting", Name: setting.Name, Data: whole(setting.Value)})
	}
	for _, piece := range p.Pieces {
		put(line{Line: "piece", Piece: hex.EncodeToString(piece.UID[:]), Data: whole(piece.Info)})
	}
	for _, piece := range p.Pieces {
		for _, r := range piece.Records {
			put(eventLine(piece.UID, r))
		}
	}
	put(line{Line: "end", Counts: new(p.counts()), SHA256: hex.EncodeToString(sum.Sum(nil))})
	return all
}

func eventLine(uid UID, r Record) line {
	_, zone := r.Time.Zone()
	return line{
		Line:  "event",
		Piece: hex.EncodeToString(uid[:]),
		Seq:   r.Seq,
		Kind:  &r.Kind,
		Time:  r.Time.UTC().Format(time.RFC3339Nano),
		Zone:  &zone,
		Chain: fmt.Sprintf("%08x", r.CRC),
		Data:  whole(r.Payload),
	}
}

// whole is bytes that are written also where there are none.
func whole(data []byte) *[]byte { return new(append([]byte{}, data...)) }

// sealLength is the length of what ends a line: its checksum.
const sealLength = len(`,"crc":"00000000"}` + "\n")

func sealLine(body []byte) []byte {
	return fmt.Appendf(body[:len(body):len(body)], ",\"crc\":\"%08x\"}\n", sumOf(nil, body))
}

// All that stands in an export follows from what it holds: order, numbers, checksums, counts. So
// a file is taken in line by line, as far as each line vouches for itself, and then what was taken
// in is written again: the file is whole and sound when it has the very same lines.

type reader struct {
	*Parcel
	number int // of the line, from 1
	pieces map[UID]*ParcelPiece
}

// ReadParcel reads a whole export. Every error is of ClassBadInput and names the line.
func ReadParcel(text []byte, name string) (*Parcel, error) {
	r := &reader{Parcel: &Parcel{Name: name}, pieces: map[UID]*ParcelPiece{}}
	lines := slices.Collect(bytes.Lines(text))
	for _, text := range lines {
		r.number++
		if fault := r.line(text); fault != "" {
			return nil, r.Bad(r.number, "%s", fault)
		}
	}
	again := r.lines()
	for i, text := range again {
		switch {
		case i == len(lines):
			return nil, r.Bad(i+1, "the file ends before its last line")
		case i == 0 && !bytes.Equal(text, lines[i]):
			return nil, r.Bad(1, notOurs)
		case !bytes.Equal(text, lines[i]):
			return nil, r.Bad(i+1, "this is not the line that follows from the others")
		}
	}
	if len(lines) > len(again) {
		return nil, r.Bad(len(again)+1, "something follows the last line")
	}
	return r.Parcel, nil
}

const notOurs = "this is not an export of this program"

// line takes in a line that matches its checksum. It says what is wrong with it, or nothing.
func (r *reader) line(text []byte) string {
	var l line
	body := text[:max(0, len(text)-sealLength)]
	sealed := bytes.Equal(text, sealLine(body))
	switch err := json.Unmarshal(text, &l); {
	case r.number == 1 && (!sealed || err != nil):
		return notOurs
	case !bytes.HasSuffix(text, []byte("\n")):
		return "the line is cut short"
	case !sealed:
		return "the line does not match its checksum"
	case err != nil:
		return "the line cannot be understood"
	}
	if l.Data == nil {
		l.Data = whole(nil) // where there should be some, it is written otherwise again
	}
	switch l.Line {
	case "header":
		if l.Format > exportFormat {
			return fmt.Sprintf("the export has format %d and this program knows %d", l.Format, exportFormat)
		}
	case "chart":
		return r.chart(*l.Data)
	case "setting":
		return r.setting(l.Name, *l.Data)
	case "piece":
		return r.piece(l.uid(), *l.Data)
	case "event":
		return r.event(l)
	}
	return ""
}

// chart takes in a chart. They come in the order of their hashes, settings in that of their names.
func (r *reader) chart(text []byte) string {
	hash := Hash(sha256.Sum256(text))
	if n := len(r.Charts); n > 0 && bytes.Compare(r.Charts[n-1].Hash[:], hash[:]) >= 0 {
		return "the chart stands there twice, or not in its place"
	}
	r.Charts = append(r.Charts, ParcelChart{hash, text, r.number})
	return ""
}

func (r *reader) setting(name string, value []byte) string {
	if n := len(r.Settings); name == "" || n > 0 && r.Settings[n-1].Name >= name {
		return "the setting has no name, stands there twice, or not in its place"
	}
	r.Settings = append(r.Settings, ParcelSetting{name, value, r.number})
	return ""
}

func (r *reader) piece(uid UID, info []byte) string {
	if r.pieces[uid] != nil {
		return fmt.Sprintf("the piece %x stands there twice", uid)
	}
	r.pieces[uid] = &ParcelPiece{UID: uid, Info: info, Line: r.number}
	r.Pieces = append(r.Pieces, r.pieces[uid])
	return ""
}

// daySeconds bounds a zone: none is a day away.
const daySeconds = 24 * 60 * 60

func (r *reader) event(l line) string {
	p := r.pieces[l.uid()]
	switch {
	case p == nil:
		return "the event belongs to no piece of this file"
	case l.Kind == nil || l.Zone == nil || max(*l.Zone, -*l.Zone) >= daySeconds:
		return "the event lacks its kind or its zone"
	}
	at, _ := time.Parse(time.RFC3339Nano, l.Time) // what is no time is written otherwise again
	p.Add(Record{Kind: *l.Kind, Time: at.In(zoneAt(int32(*l.Zone))), Payload: *l.Data})
	p.Lines = append(p.Lines, r.number)
	return ""
}

// uid is the identity a line names; what is none is written otherwise again.
func (l line) uid() (uid UID) {
	named, _ := hex.DecodeString(l.Piece)
	copy(uid[:], named)
	return uid
}
