package answer

import (
	"strandwise/cmd/stored"
	"strandwise/store"

	d "strandwise/cmd/document"
)

// StoreCheck is the answer of store check, schema 1. It is the answer of a
// damaged store too, with sound false and status 6.
type StoreCheck struct {
	Path  string `json:"path"`
	Sound bool   `json:"sound"`
	store.Contents
	Problems []stored.Finding `json:"problems"`
	Notes    []stored.Finding `json:"notes"`
	Warnings []string         `json:"warnings"`
}

// Document tells of a sound store; the problems of another are its fault's.
func (a *StoreCheck) Document() d.Document {
	p := &prose{}
	p.named(a.Path, " is sound: %s in %s.", contentWords(a.Counts), sized(a.Bytes))
	p.item("Every checksum held, and every piece was worked through again from its first event.")
	for _, n := range a.Notes {
		p.item("Note: %s.", n)
	}
	return p.document()
}
