package store

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"slices"
)

// Counts tells how many of each a store or an export holds.
type Counts struct {
	Charts   int `json:"charts"`
	Settings int `json:"settings"`
	Pieces   int `json:"pieces"`
	Events   int `json:"events"`
}

// Parcel is all that a store holds but its cache; that of an export tells the line of each thing.
type Parcel struct {
	Name     string // of the file, for messages
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
	ID      PieceID // the number it has, or should have where it is taken in; 0 for any
	UID     UID
	Info    []byte
	Line    int
	Records []Record
	Lines   []int // of the records
	Fault   error // why the log in a store cannot be read to its end
}

func (p *ParcelPiece) tail() Mark {
	if len(p.Records) == 0 {
		return Mark{}
	}
	return p.Records[len(p.Records)-1].Mark()
}

// Add puts an event at the end of the log, with the number and checksum it has there.
func (p *ParcelPiece) Add(r Record) {
	before := p.tail()
	r.Seq = before.Seq + 1
	r.CRC = crcOf(encodeEvent(p.UID, before.CRC, r))
	p.Records = append(p.Records, r)
}

// AddChart adds a chart; the same one stands there once.
func (p *Parcel) AddChart(text []byte) {
	c := ParcelChart{Hash: sha256.Sum256(text), Bytes: text}
	if !slices.ContainsFunc(p.Charts, func(o ParcelChart) bool { return o.Hash == c.Hash }) {
		p.Charts = append(p.Charts, c)
	}
}

// Chart is a chart by its hash.
func (p *Parcel) Chart(hash Hash) ([]byte, error) {
	i := slices.IndexFunc(p.Charts, func(c ParcelChart) bool { return c.Hash == hash })
	if i < 0 {
		return theChart(hash, nil)
	}
	return theChart(hash, p.Charts[i].Bytes)
}

func (p *Parcel) counts() Counts {
	c := Counts{Charts: len(p.Charts), Settings: len(p.Settings), Pieces: len(p.Pieces)}
	for _, piece := range p.Pieces {
		c.Events += len(piece.Records)
	}
	return c
}

// Bad is the error that something at a line of the file cannot be taken in.
func (p *Parcel) Bad(line int, format string, args ...any) error {
	return &Error{Class: ClassBadInput, Path: p.Name, Line: line, What: fmt.Sprintf(format, args...)}
}

// gather reads and verifies everything but the cache.
func (tx *Tx) gather(note func(error)) *Parcel {
	p := &Parcel{}
	for _, h := range tx.heads() {
		info, bad := tx.Info(h.id)
		records, fault := tx.Records(h.id)
		note(bad)
		note(fault)
		p.Pieces = append(p.Pieces, &ParcelPiece{ID: h.id, UID: h.UID, Info: info, Records: records, Fault: fault})
	}
	note(tx.sameTally(tallyCharts))
	if b, err := tx.bucket(bucketCharts); err == nil {
		note(b.ForEach(func(k, chart []byte) error {
			c := ParcelChart{Bytes: bytes.Clone(chart)}
			copy(c.Hash[:], k)
			p.Charts = append(p.Charts, c)
			note(soundChart(c.Hash, chart))
			return nil
		}))
	}
	settings := tx.sameTally(tallySettings)
	if note(settings); settings == nil {
		p.Settings = tx.settings()
	}
	return p
}

func (tx *Tx) settings() (all []ParcelSetting) {
	c := tx.btx.Bucket(bucketSettings).Cursor()
	for name, value := c.First(); name != nil; name, value = c.Next() {
		all = append(all, ParcelSetting{Name: string(name), Value: bytes.Clone(value)})
	}
	return all
}
