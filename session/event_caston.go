package session

import (
	"cmp"
	"fmt"
	"slices"

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

// Item is what kind of thing is knitted, as far as the length of its floats goes: one of floats.Items.
type Item uint8

// The kinds of item.
const (
	General   Item = iota // hat, body, cowl
	Sleeve                // a narrow tube an arm passes through
	HandsFeet             // mitten, glove, sock: fingers and toes catch in floats
	Baby                  // anything for a baby
)

// String is the word for the item on the command line.
func (i Item) String() string { return floats.Items[i].Word }

// What a knitter is warned of where strands lie inside an item for babies, hands or feet (common practice;
// health bodies' own rules come first).
var strandCautions = []string{
	"Loose strands inside have injured babies' fingers and toes. More catches do not remove the hazard, and no spacing is offered as enough.",
	"For babies' hands and feet choose a pattern without floats, or line the item.",
	"Turn the item inside out and look before each use. A swollen or discolored finger or toe: medical help at once.",
	"Local rules apply to what is sold or given away.",
}

// HandCautions are for the knitter's own hands.
var HandCautions = []string{
	"Pause now and then and let the hands rest.",
	"Pain, tingling or numbness: stop; if it stays, ask a doctor or therapist.",
}

// Cautions gives the warnings that go with an item, none for most.
func (i Item) Cautions() []string {
	if floats.Items[i].Wary {
		return strandCautions
	}
	return nil
}

// What a knitter is told of a steek (common practice), since a cut cannot be taken back.
var steekCautions = []string{
	"Before a steek is cut: secure the stitches on both sides of the cut first, by sewing or crochet, through every row from edge to edge, and try it on a swatch.",
	"A cut cannot be undone. Count the stitches and find the middle before you take the scissors.",
}

// Cautions are the warnings that go with a piece: those of its item, and of a steek.
func (e *CastOn) Cautions() []string {
	all := e.Item.Cautions()
	if slices.ContainsFunc(AllBlocks(e.Parts), func(b PartRef) bool { return b.Steek > 0 }) {
		return slices.Concat(all, steekCautions)
	}
	return all
}
