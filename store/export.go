package store

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"time"
)

// An export is UTF-8 text, one JSON object a line. Every line ends in its own
// CRC-32C, taken over all of the line before `,"crc"`; the last line holds counts
// and the SHA-256 of all lines before it. In order: a header, the charts by hash,
// the settings by name, the pieces in the order they were made, and the events by
// piece and number. Nothing in it depends on which store it was made from or when,
// so that export, import into an empty store, export gives the same bytes.
const exportName = "strandwise export"

// exportFormat is the layout of an export this program writes and reads.
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
	Data   *string `json:"data,omitempty"` // base64
	Counts *Counts `json:"counts,omitempty"`
	SHA256 string  `json:"sha256,omitempty"`
	CRC    string  `json:"crc,omitempty"` // of all before it
}

// Counts tells how many of each an export holds.
type Counts struct {
	Charts   int `json:"charts"`
	Settings int `json:"settings"`
	Pieces   int `json:"pieces"`
	Events   int `json:"events"`
}

// exporter writes lines and sums them up.
type exporter struct {
	text   bytes.Buffer
	counts Counts
}

// Export writes everything but the cache, and changes nothing. It verifies every
// byte first: when something cannot be vouched for, nothing is written. The store
// is closed again before the writing begins, which may wait for whoever reads.
func (s *Store) Export(ctx context.Context, w io.Writer) (Counts, error) {
	var text []byte
	var counts Counts
	err := s.raised(ctx, func() error {
		return s.view(ctx, verifyLimit, func(tx *Tx) error {
			e := &exporter{}
			err := cmp.Or(tx.wholly(), e.all(tx))
			text, counts = e.text.Bytes(), e.counts
			return err
		})
	})
	if err != nil {
		return Counts{}, err
	}
	_, err = w.Write(text)
	return counts, err
}

// all writes the whole export.
func (e *exporter) all(tx *Tx) error {
	if err := e.write(line{Line: "header", File: exportName, Format: exportFormat}); err != nil {
		return err
	}
	for _, write := range []func(*Tx) error{e.charts, e.settings, e.pieces, e.events} {
		if err := write(tx); err != nil {
			return err
		}
	}
	sum := sha256.Sum256(e.text.Bytes())
	return e.write(line{Line: "end", Counts: &e.counts, SHA256: hex.EncodeToString(sum[:])})
}

// write writes one line.
func (e *exporter) write(l line) error {
	text, err := encodeLine(l)
	if err != nil {
		return err
	}
	e.text.Write(text)
	return nil
}

// encodeLine is the only form of a line, newline and CRC included.
func encodeLine(l line) ([]byte, error) {
	l.CRC = ""
	text, err := marshaled(l)
	if err != nil {
		return nil, err
	}
	l.CRC = fmt.Sprintf("%08x", sumOf(nil, bytes.TrimSuffix(text, []byte("}\n"))))
	return marshaled(l)
}

// marshaled is a line in JSON, with characters as they are and a newline.
func marshaled(l line) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(l)
	return b.Bytes(), err
}

// charts writes the charts, which lie in the order of their hashes.
func (e *exporter) charts(tx *Tx) error {
	b, err := tx.bucket(bucketCharts)
	if err != nil {
		return err
	}
	return b.ForEach(func(k, _ []byte) error {
		if len(k) != len(Hash{}) {
			return damaged("a stored chart has no proper name")
		}
		chart, err := tx.Chart(Hash(k))
		if err != nil {
			return err
		}
		e.counts.Charts++
		return e.write(line{Line: "chart", Hash: hex.EncodeToString(k), Data: encoded(chart)})
	})
}

// settings writes the settings.
func (e *exporter) settings(tx *Tx) error {
	names, err := tx.Settings()
	if err != nil {
		return err
	}
	for _, name := range names {
		e.counts.Settings++
		value, _, _ := tx.Setting(name) // as it could be when it was listed
		if err := e.write(line{Line: "setting", Name: name, Data: encoded(value)}); err != nil {
			return err
		}
	}
	return nil
}

// pieces writes what is known of each piece.
func (e *exporter) pieces(tx *Tx) error {
	for _, h := range tx.heads() {
		info, err := tx.Info(h.id)
		if err != nil {
			return err
		}
		e.counts.Pieces++
		if err := e.write(line{Line: "piece", Piece: hex.EncodeToString(h.uid[:]), Data: encoded(info)}); err != nil {
			return err
		}
	}
	return nil
}

// events writes the logs.
func (e *exporter) events(tx *Tx) error {
	for _, h := range tx.heads() {
		for r, err := range tx.Records(h.id) {
			if err != nil {
				return err
			}
			e.counts.Events++
			if err := e.write(eventLine(h.uid, r)); err != nil {
				return err
			}
		}
	}
	return nil
}

// eventLine is one event as a line.
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
		Data:  encoded(r.Payload),
	}
}

// encoded is bytes in base64; no bytes are an empty text, not none.
func encoded(data []byte) *string {
	text := base64.StdEncoding.EncodeToString(data)
	return &text
}
