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
