package session

import (
	"fmt"

	"strandwise/floats"
)

// Item is what kind of thing is knitted, as far as the length of its floats goes.
type Item uint8

// The kinds of item.
const (
	General   Item = iota // hat, body, cowl
	Sleeve                // a narrow tube an arm passes through
	HandsFeet             // mitten, glove, sock: fingers and toes catch in floats
	Baby                  // anything for a baby
)

var itemWords = [...]string{General: "general", Sleeve: "sleeve", HandsFeet: "hands-feet", Baby: "baby"}

// String is the word for the item on the command line.
func (i Item) String() string {
	if int(i) >= len(itemWords) {
		return fmt.Sprintf("item %d", uint8(i))
	}
	return itemWords[i]
}

// ParseItem gives the item of a word; another word is a *FieldError.
func ParseItem(word string) (Item, error) {
	for i, w := range itemWords {
		if w == word {
			return Item(i), nil
		}
	}
	return 0, checkWord("item", word, itemWords[:]...)
}

// item reads an item.
func (r *reader) item() Item {
	v := r.uvarint()
	if v >= uint64(len(itemWords)) {
		r.fail("an unknown kind of item")
		return 0
	}
	return Item(v)
}

// Wary reports whether strands inside the item have hurt fingers and toes.
func (i Item) Wary() bool {
	it, ok := floats.ItemNamed(i.String())
	return ok && it.Wary
}
