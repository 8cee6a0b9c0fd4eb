package store

import "fmt"

// Counts tells how many of each a store or an export holds.
type Counts struct {
	Charts   int `json:"charts"`
	Settings int `json:"settings"`
	Pieces   int `json:"pieces"`
	Events   int `json:"events"`
}

// Parcel is all that a store holds but its cache. That of an export is whole and sound, and
// tells the line each thing stands on.
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
	UID     UID
	Info    []byte
	Line    int
	Records []Record
	Lines   []int // of the records
}

func (p *ParcelPiece) tail() Mark {
	if len(p.Records) == 0 {
		return Mark{}
	}
	return p.Records[len(p.Records)-1].Mark()
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
	return &Error{
		Class: ClassBadInput,
		Path:  p.Name,
		Line:  line,
		What:  fmt.Sprintf(format, args...),
		Next:  "export the store again and copy the file anew",
	}
}
