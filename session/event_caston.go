package session

import (
	"cmp"
	"fmt"

	"strandwise/floats"
)

// CastOn begins a piece.
type CastOn struct {
	Name      string    // of the piece
	Parts     []PartRef // in the order they are worked
	Gauge     string    // as the knitter gave it; empty when none was given
	Limit     int       // longest gap in stitches, at least 1
	Item      Item
	Flat      bool // worked back and forth; otherwise in the round
	Mirror    bool // the knitter works from the right needle to the left
	Grip           // how the yarns are held
	RestLimit int  // longest rest of a yarn, in rows, over which it is not cut; at least 0

	// For the second of a pair; all empty otherwise.
	CopyOf    uint64 // id of the first piece in its store
	Mirrored  bool   // the charts are turned left to right
	FirstName string // name of the first piece when this one was begun
}

func (e *CastOn) newer() bool { return partsHaveBlocks(e.Parts) }

func (e *CastOn) validate(s *State) error {
	if s.begun() {
		return refuse("%s is already cast on; cast on another piece instead", s.Setup.Name).
			instead("strandwise pieces, which lists the names in use")
	}
	return cmp.Or(
		checkLine("name", e.Name),
		checkParts(e.Parts),
		checkOptional("gauge", e.Gauge),
		checkRange("limit", e.Limit, 1),
		checkBetween("item", int(e.Item), 0, len(floats.Items)-1),
		e.Grip.check(),
		checkRange("rest limit", e.RestLimit, 0),
		e.checkPair(),
	)
}

func (e *CastOn) checkPair() error {
	if e.CopyOf == 0 {
		if e.Mirrored || e.FirstName != "" {
			return &FieldError{"second of a pair", "no first piece", "the first piece"}
		}
		return nil
	}
	return checkLine("name of the first piece", e.FirstName)
}

func (e *CastOn) apply(s *State, _ []Entry) {
	s.Setup = *e
	s.Grips = []Grip{e.Grip}
	s.Segments = []Segment{{From: 1, Parts: e.Parts, Limit: e.Limit, Gauge: e.Gauge}}
}

func (e *CastOn) fields(w *wire, k Kind) {
	w.text(&e.Name)
	w.parts(&e.Parts, k == KindCastOnBlocks)
	w.text(&e.Gauge)
	w.int(&e.Limit)
	number(w, &e.Item, uint64(len(floats.Items)-1), "an unknown kind of item")
	w.flags(&e.Flat, &e.Mirror, &e.Mirrored)
	e.Grip.fields(w)
	w.int(&e.RestLimit)
	w.uint(&e.CopyOf)
	w.text(&e.FirstName)
}

func (e *CastOn) words(t historyWords) string {
	how := "in the round"
	if e.Flat {
		how = "flat"
	}
	line := fmt.Sprintf("cast on %s, %s, %s, at most %s uncaught", e.Name, how, e.Hold, plural(e.Limit, "stitch"))
	if e.CopyOf != 0 {
		line += ", the pair of " + e.FirstName
	}
	return line
}
