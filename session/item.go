package session

import (
	"slices"

	"strandwise/floats"
)

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
