package session

import (
	"encoding/binary"
	"slices"
	"time"
)

// A brief is a state in short: all that working the next row asks for, without the log.
// It is kept so that a step on a piece of 5,000 events takes no longer than on one of
// 50: it grows with the finished rows, which are as many as the piece is long, and not
// with all that was ripped and knitted again. What was logged after it is folded on top.
//
// Its bytes are read by the version that wrote them or not at all: a brief can be made
// anew from the log at any time. First comes the state with the piece as it is set up, then
// the newest event, then the finished rows, as a table.

// briefVersion changes whenever the bytes of a brief or of an event do.
const briefVersion = 1

// Brief gives the bytes of a state; Continue is the inverse. Only the state of a piece
// that is cast on has one.
func (s *State) Brief() []byte {
	b := appendInt(nil, briefVersion)
	b = appendTime(appendSeq(b, s.LastSeq), s.LastAt)
	b = appendSeq(appendSeq(b, s.CanUndo), s.CanRedo)
	b = appendFlags(appendInt(appendInt(b, s.Row), s.Begun), s.BoundOff)
	b = appendBriefLists(s.Setup.encode(b), s)
	newest := &s.records[len(s.records)-1]
	b = appendRecord(appendInt(b, int(newest.Kind)), newest)
	return appendBriefRows(b, s)
}

// appendBriefLists writes what of the state grows with the log, its rows apart.
func appendBriefLists(b []byte, s *State) []byte {
	b = appendList(b, s.Segments, func(b []byte, seg Segment) []byte {
		return appendText(appendInt(appendParts(appendInt(b, seg.From), seg.Parts), seg.Limit), seg.Gauge)
	})
	b = appendList(b, s.Grips, func(b []byte, g Grip) []byte { return g.encode(b) })
	b = appendList(b, s.Rips, func(b []byte, r Rip) []byte {
		b = appendInt(appendInt(appendTime(appendSeq(b, r.Seq), r.At), r.From), r.To)
		return appendFlags(appendInt(b, r.Begun), r.BoundOff)
	})
	b = appendList(b, s.Notes, func(b []byte, n Note) []byte {
		return appendFlags(appendInt(appendText(appendTime(appendSeq(b, n.Seq), n.At), n.Text), n.Row), n.Closed)
	})
	b = appendList(b, s.Used, func(b []byte, u Used) []byte {
		return u.YarnUsed.encode(appendInt(appendTime(appendSeq(b, u.Seq), u.At), u.Row))
	})
	return appendList(b, s.Balls, func(b []byte, ball Ball) []byte {
		return ball.BallNoted.encode(appendInt(appendTime(appendSeq(b, ball.Seq), ball.At), ball.Row))
	})
}

func appendBriefRows(b []byte, s *State) []byte {
	return appendTable(b, s.Row, func(b []byte, i int) []byte {
		r, grip := s.finished(i + 1)
		return appendRecord(appendInt(b, grip), &r)
	})
}

// appendRecord writes a record but for its kind. Its payload is the rest of what is read.
func appendRecord(b []byte, r *Record) []byte {
	b = appendTime(appendSeq(b, r.Seq), r.At)
	return append(appendInt(b, len(r.Payload)), r.Payload...)
}

// Continue is the state of a brief after the events that were logged since, what Fold
// makes of the whole log. ok is false where the brief cannot serve and the log is to be
// read: where it is of another version or none, or where an undoing or redoing came since,
// which may reach back before it. The bytes are taken over as a log is by Fold.
//
// The state can do all that a step needs; asked for its log, or for what only the log
// tells (Log, Records, With, Pace, an undoing), it panics. Errors are those of Fold.
func Continue(brief []byte, since []Record) (s *State, ok bool, err error) {
	if slices.ContainsFunc(since, func(r Record) bool { return reachesBack(r.Kind) }) {
		return nil, false, nil
	}
	if s, ok = readBrief(brief, len(since)+1); !ok {
		return nil, false, nil
	}
	for _, r := range since {
		if err := s.take(r); err != nil {
			return nil, true, err
		}
	}
	return s, true, nil
}

// reachesBack reports whether a kind of event changes which of the earlier ones hold.
func reachesBack(kind uint16) bool { return kind == uint16(KindUndone) || kind == uint16(KindRedone) }

// readBrief reads a brief, with room for so many more records.
func readBrief(b []byte, room int) (*State, bool) {
	r := &reader{b: b}
	if r.int() != briefVersion {
		return nil, false
	}
	s := &State{isBrief: true, LastSeq: r.uvarint(), LastAt: r.time(), CanUndo: r.uvarint(), CanRedo: r.uvarint()}
	s.Row, s.Begun, s.BoundOff = r.int(), r.int(), r.flags(1) != 0
	s.Setup = *decodeCastOn(r).(*CastOn)
	r.briefLists(s)
	kind := r.int()
	s.records = append(make([]Record, 0, 1+room), r.record())
	s.records[0].Kind = uint16(kind)
	s.cancelled = make([]bool, 1, 1+room)
	if r.fault != "" || !s.begun() || len(s.Grips) == 0 {
		return nil, false
	}
	var ok bool
	s.kept, ok = readKeptRows(b[r.at:], s.Row, len(s.Grips))
	return s, ok
}

func (r *reader) briefLists(s *State) {
	s.Segments = readList(r, func() Segment {
		return Segment{From: r.int(), Parts: r.parts(), Limit: r.int(), Gauge: r.text()}
	})
	s.Grips = readList(r, r.grip)
	s.Rips = readList(r, func() Rip {
		return Rip{Seq: r.uvarint(), At: r.time(), From: r.int(), To: r.int(), Begun: r.int(), BoundOff: r.flags(1) != 0}
	})
	s.Notes = readList(r, func() Note {
		return Note{Seq: r.uvarint(), At: r.time(), Text: r.text(), Row: r.int(), Closed: r.flags(1) != 0}
	})
	s.Used = readList(r, func() Used {
		return Used{Seq: r.uvarint(), At: r.time(), Row: r.int(), YarnUsed: *decodeYarnUsed(r).(*YarnUsed)}
	})
	s.Balls = readList(r, func() Ball {
		return Ball{Seq: r.uvarint(), At: r.time(), Row: r.int(), BallNoted: *decodeBallNoted(r).(*BallNoted)}
	})
}

// record reads a record but for its kind.
func (r *reader) record() Record {
	record := Record{Seq: r.uvarint(), At: r.time()}
	n := r.count(1)
	record.Payload = r.b[r.at : r.at+n : r.at+n]
	r.at += n
	return record
}

func appendList[T any](b []byte, items []T, one func([]byte, T) []byte) []byte {
	b = appendInt(b, len(items))
	for _, item := range items {
		b = one(b, item)
	}
	return b
}

// readList reads a list; nil where it is empty. No item takes less than a byte.
func readList[T any](r *reader, one func() T) []T {
	n := r.count(1)
	if n == 0 {
		return nil
	}
	items := make([]T, n)
	for i := range items {
		items[i] = one()
	}
	return items
}

// appendTime writes a time with its zone, which is told by how far east it is.
func appendTime(b []byte, t time.Time) []byte {
	_, east := t.Zone()
	b = binary.AppendUvarint(binary.AppendVarint(b, t.Unix()), uint64(t.Nanosecond()))
	return binary.AppendVarint(b, int64(east))
}

func (r *reader) time() time.Time {
	seconds, nanos, east := r.varint(), r.uvarint(), r.varint()
	t := time.Unix(seconds, int64(nanos%1e9))
	if east == 0 {
		return t.UTC()
	}
	return t.In(time.FixedZone("", int(east)))
}

// varint reads a number that may be below zero.
func (r *reader) varint() int64 {
	v, n := binary.Varint(r.b[r.at:])
	if n <= 0 {
		r.fail("it ends too soon")
		return 0
	}
	r.at += n
	return v
}

// keptRows are finished rows in the bytes of a brief; the first is row 1.
type keptRows struct {
	table table
	n     int // so many of them are still in the fabric
}

// readKeptRows takes n rows from b and reports whether they fill it, each with one of the
// grips.
func readKeptRows(b []byte, n, grips int) (keptRows, bool) {
	t, ok := readTable(b, n)
	k := keptRows{t, n}
	for row := 1; ok && row <= n; row++ {
		ok = k.grip(row) < grips
	}
	return k, ok
}

// row gives the record of a row and the index of its grip.
func (k *keptRows) row(row int) (r Record, grip int) {
	bytes := &reader{b: k.table.at(row - 1)}
	grip = bytes.int()
	r = bytes.record()
	r.Kind = uint16(KindRowKnit)
	return r, grip
}

// grip gives the index of the grip of a row.
func (k *keptRows) grip(row int) int { return (&reader{b: k.table.at(row - 1)}).int() }
