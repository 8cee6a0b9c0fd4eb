package answer

import (
	"strandwise/session"

	d "strandwise/cmd/document"
)

// Placed is where a piece stands after a change, schema 2.
type Placed struct {
	Piece    string `json:"piece"`
	Row      int    `json:"row"`   // finished rows
	Next     int    `json:"next"`  // row to work; 0 when none is left
	Begun    *Place `json:"begun"` // the last stitch worked of it; null where none is known
	Of       int    `json:"of"`
	BoundOff bool   `json:"bound_off"`
	Event    uint64 `json:"event"` // number of the newest event
	Words    string `json:"words"` // and what it says

	of  *session.Piece
	did []string
}

// NewPlaced makes the answer; did is what was changed, a line each.
func NewPlaced(p *session.Piece, did ...string) *Placed {
	s := p.State
	a := &Placed{s.Setup.Name, s.Row, s.Next(), nil, p.Rows(), s.BoundOff, s.LastSeq, p.Words(s.Newest()), p, did}
	if s.Begun > 0 {
		at := p.PlaceOf(s.Row+1, s.Begun)
		a.Begun = &at
	}
	return a
}

// Document tells what was changed and where the piece stands.
func (a *Placed) Document() d.Document {
	p := &prose{}
	for _, did := range a.did {
		p.add(d.Act(Catches(did)))
	}
	word := session.RowWord(!a.of.State.Setup.Flat)
	switch a.of.State.Newest().Event.(type) {
	case *session.BoundOff:
		a.boundOff(p, word)
	case *session.Paused, *session.RowBegun:
		if a.Begun == nil {
			p.act("place cleared")
			break
		}
		p.act("paused in %s %d after %s", word, a.Next, a.of.PlaceWords(a.Next, a.of.State.Begun))
		p.next("when you are back: strandwise resume")
	default:
		a.standing(p, word)
	}
	return p.document()
}

func (a *Placed) boundOff(p *prose, word string) {
	p.add(d.Act(d.Named(a.Piece, " is bound off after "+d.Counted(a.Row, word))))
	if left := a.Of - a.Row; left > 0 {
		p.item("%s not knitted; strandwise undo, if that was not meant", d.Counted(left, word))
	}
	p.eachItem(a.of.State.Setup.Cautions())
	p.next("next: strandwise review")
}

func (a *Placed) standing(p *prose, word string) {
	switch {
	case a.BoundOff:
		p.add(d.Act(d.Named(a.Piece, " is bound off")))
	case a.Next == 0:
		p.act("all %s are worked", d.Counted(a.Of, word))
		p.next("next: strandwise bind-off")
	default:
		p.act("you are on %s %d of %d", word, a.Next, a.Of)
		p.next("next: strandwise show")
	}
}
