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
