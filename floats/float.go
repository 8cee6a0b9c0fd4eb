package floats

// Kind is where a float lies in the work.
type Kind uint8

// The kinds of float.
const (
	Within    Kind = iota // between two uses in one row
	OverStart             // in the round: from the last use in a round to the first in the next
	ToEdge                // from the last use in a row to its end, where the yarn waits
	FromEdge              // from the start of a row to the first use in it
	Across                // flat: behind a whole resting row, back to the edge it is needed at
)

var kindWords = [...]string{"within", "over-start", "to-edge", "from-edge", "across"}

// String is the word for the kind.
func (k Kind) String() string { return kindWords[k] }

// MarshalText is the kind as it stands in JSON.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Float is a yarn carried behind stitches worked in other yarns.
type Float struct {
	Yarn   int // index into Fabric.Yarns
	Kind   Kind
	Row    int // index into Fabric.Rows of its first stitch
	Stitch int // its first stitch in knitting order over the whole row, from 1
	Length int // stitches, never 0
}

// Rest is a yarn left waiting for whole rows between two uses.
type Rest struct {
	Yarn    int
	FromRow int  // index into Fabric.Rows of the first resting row
	ToRow   int  // and of the last
	Cut     bool // rests longer than the rest limit: cut and rejoin, no floats
	Across  bool // flat and waiting at the wrong edge: crosses the last resting row
}

// Catch is one catch: on a stitch (weave) or just before it (twist).
type Catch struct {
	Row    int // index into Fabric.Rows
	Stitch int // in knitting order over the whole row, from 1
	Yarn   int // the carried yarn that is caught, index into Fabric.Yarns
}

// Method is how floats are caught.
type Method uint8

// The two methods.
const (
	Weave Method = iota // the carried yarn crosses the working yarn for one stitch
	Twist               // the yarns cross between two stitches
)

// String is the method as it stands on the command line.
func (m Method) String() string { return [...]string{"weave", "twist"}[m] }

// MarshalText is the method as answers to programs name it.
func (m Method) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// DefaultRestLimit is the longest rest, in rows, without a cut (common practice, no source).
const DefaultRestLimit = 6
