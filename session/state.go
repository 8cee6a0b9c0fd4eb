package session

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// State is a piece as its log leaves it; the zero State is a piece not cast on. Fold makes it and nothing
// changes it after: its slices are not to be written to.
type State struct {
	Setup    CastOn    // the cast-on with every change since merged in: what holds for the next row
	Segments []Segment // which plan holds for which rows, in order; the first is from row 1
	Grips    []Grip    // every way the yarns were held so far, the last in force

	Row      int       // finished rows
	Begun    int       // stitches worked of the row after them; 0 when none is known
	OnNeedle *RowBegun // how the row after them was shown when it was begun; nil when it is not begun
	BoundOff bool
	Ripped   int // rows ripped back in all

	Notes []Note      // in order
	Used  []Used      // what was measured of the yarns, in order
	Balls []BallNoted // in order

	CanUndo uint64    // number of the event the next undoing names; 0 when there is none
	CanRedo uint64    // number of the undoing the next redoing names; 0 when there is none
	LastSeq uint64    // number of the newest event; 0 for an empty log
	LastAt  time.Time // and its time, for display only

	Records  []Record   // the log as it was read
	Log      []Entry    // every event of it, canceled ones too, in order
	DoneRows []*DoneRow // the finished rows; the first is row 1

	stacks
}

// Segment is a stretch of rows under one plan. It ends where the next begins.
type Segment struct {
	From  int       // first row, from 1
	Parts []PartRef // the whole piece, laid from its row 1
	Limit int       // stitches
	Gauge string    // as the knitter gave it; empty when none was given
}

// DoneRow is a finished row as it was logged and, where it was, corrected since.
type DoneRow struct {
	RowKnit
	Seq  uint64
	At   time.Time // when it was logged, for display and pace only
	Grip Grip      // how it was worked
}

// Note is a note of the knitter's.
type Note struct {
	Number int       `json:"number"` // from 1, in the order of the notes of the piece
	Seq    uint64    `json:"-"`
	At     time.Time `json:"at"`
	Row    int       `json:"row"` // from 1; 0 for the whole piece
	Text   string    `json:"text"`
	Closed bool      `json:"closed"`
}

// Used is an amount of yarn used, measured when Row rows were finished.
type Used struct {
	YarnUsed
	Row int
}

// clip lets what is added from now on leave alone what later states of the log, that were gone back
// from, have added.
func (s *State) clip() {
	s.DoneRows, s.Grips, s.Segments = slices.Clip(s.DoneRows), slices.Clip(s.Grips), slices.Clip(s.Segments)
	s.Notes, s.Used, s.Balls = slices.Clip(s.Notes), slices.Clip(s.Used), slices.Clip(s.Balls)
}

// Total is how many rows the piece has under the plan now in force.
func (s *State) Total() int { return totalRows(s.Setup.Parts) }

// Next is the row to work, from 1; 0 when the piece is bound off or all its rows are finished.
func (s *State) Next() int {
	if s.BoundOff || s.Row >= s.Total() {
		return 0
	}
	return s.Row + 1
}

// SegmentAt gives the plan a row was or will be worked under. Row counts from 1.
func (s *State) SegmentAt(row int) Segment {
	for _, seg := range slices.Backward(s.Segments) {
		if seg.From <= row {
			return seg
		}
	}
	return Segment{}
}

// GripAt gives how a row, from 1, was worked or will be. One that is begun is caught by the method it was
// begun with, however the hands hold the yarns by now.
func (s *State) GripAt(row int) Grip {
	if row >= 1 && row <= s.Row {
		return s.DoneRows[row-1].Grip
	}
	grip := s.Setup.Grip
	if row == s.Row+1 && s.OnNeedle != nil {
		grip.Method = s.OnNeedle.Method.String()
	}
	return grip
}

// OpenNotes lists the notes that are not closed, in order.
func (s *State) OpenNotes() []Note {
	return slices.DeleteFunc(slices.Clone(s.Notes), func(n Note) bool { return n.Closed })
}

// Check reports why an event cannot be logged next. Events that passed it can be encoded.
func (s *State) Check(e Event) error {
	if _, begins := e.(*CastOn); !begins && !s.begun() {
		return refuseNotCastOn()
	}
	return e.validate(s)
}

func (s *State) begun() bool { return len(s.Segments) > 0 }

func (s *State) open() error {
	if s.BoundOff {
		return refuse("the piece is bound off after %s %d; undo the bind-off to go on", s.rowWord(), s.Row).instead("strandwise undo")
	}
	return nil
}

func (s *State) checkNext(row int) error {
	word, next := s.rowWord(), s.Row+1
	switch {
	case row < 1:
		return checkRange(word, row, 1)
	case row <= s.Row:
		rest := fmt.Sprintf("the %s to work is %d", word, next)
		if s.Row == s.Total() {
			rest = fmt.Sprintf("all %ss are, so bind off or rip back", word)
		}
		return refuse("%s %d is already logged; %s", word, row, rest).instead("strandwise show, for the %s to work now", word)
	case s.Row == s.Total():
		e := refuse("all %s are worked; bind off, or rip back to work some again", plural(s.Row, word))
		e.Try = []string{"strandwise bind-off", "strandwise rip N"}
		return e
	case row > next:
		e := refuse("%s %d is not next; the %[1]s to work is %[3]d", word, row, next)
		e.Row, e.Next = row, next
		return e.instead("strandwise knit --to %d, if the %ss below it are knitted already", row, word)
	}
	return nil
}

func (s *State) rowWord() string { return RowWord(!s.Setup.Flat) }

// note finds a note by number, nil when there is none.
func (s *State) note(seq uint64) *Note {
	if i := slices.IndexFunc(s.Notes, func(n Note) bool { return n.Seq == seq }); i >= 0 {
		return &s.Notes[i]
	}
	return nil
}

// FirstToPlan is the first row that a change of the plan is for, from 1: the next one, or
// the one after it where that is begun.
func (s *State) FirstToPlan() int {
	if s.OnNeedle != nil {
		return s.Row + 2
	}
	return s.Row + 1
}

// lowerSegments lets the newest plan hold for every row to come: plans that were to begin later begin at
// the first row to plan, and of several that begin there the newest is left.
func (s *State) lowerSegments() {
	newest, from := s.Segments[len(s.Segments)-1], s.FirstToPlan()
	newest.From = from
	if later := slices.IndexFunc(s.Segments, func(g Segment) bool { return g.From >= from }); later >= 0 {
		s.Segments = append(slices.Clip(s.Segments[:later]), newest)
	}
}

// DoneRow gives a finished row, from 1 to State.Row; another number panics.
func (s *State) DoneRow(row int) DoneRow { return *s.DoneRows[row-1] }

// Newest gives the newest event. The piece must be cast on.
func (s *State) Newest() Entry { return s.Log[len(s.Log)-1] }

// Entry finds an event by its number; ok is false when there is none.
func (s *State) Entry(seq uint64) (e Entry, ok bool) {
	i, found := slices.BinarySearchFunc(s.Log, seq, func(e Entry, seq uint64) int { return cmp.Compare(e.Seq, seq) })
	if !found {
		return Entry{}, false
	}
	return s.Log[i], true
}
