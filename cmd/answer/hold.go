package answer

import (
	"fmt"

	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/session"
	"strandwise/session/hold"
)

// Hold is the answer of hold, schema 1.
type Hold struct {
	session.Grip
	DominantPlace string              `json:"dominant_place"` // empty where none is known
	Lower         string              `json:"lower"`          // the place whose strand comes from below, as the knitter told; empty where she did not
	Mirror        bool                `json:"mirror"`
	Recommended   string              `json:"recommended"` // method for this hold
	YarnPlaces    []session.YarnPlace `json:"seats"`       // in the row to work

	of  *session.Piece
	did string // what was changed; empty where nothing was
}

// NewHold makes the answer; did is what was changed, if anything was.
func NewHold(p *session.Piece, did string) *Hold {
	s := p.State.Setup
	h := s.Grip.Hands(s.Mirror)
	a := &Hold{
		Grip: s.Grip, Mirror: s.Mirror,
		Recommended: hold.Recommend(h.Hold, h.Carry).Method.String(), Lower: s.Lower, of: p, did: did,
	}
	if place := h.Dominant(); place.Known {
		a.DominantPlace = place.Place.String()
	}
	if next := p.State.Next(); next > 0 {
		a.YarnPlaces = p.YarnPlaces(next)
	}
	return a
}

// Document tells what was changed, and how the yarns are held now.
func (a *Hold) Document() d.Document {
	p, state, h := &prose{}, a.of.State, a.Hands(a.Mirror)
	if a.did != "" {
		p.act("%s", a.did)
		if state.Row > 0 || state.Begun > 0 {
			p.item("%s", hold.ChangeShows)
		}
	}
	p.factText("hold", d.Named(a.Hold, ": "+h.Hold.Describe(a.Mirror)))
	p.fact("carry", "%s", a.Carry)
	p.fact("method", "%s", a.Method)
	word := session.RowWord(!state.Setup.Flat)
	if begun := state.OnNeedle; begun != nil && begun.Method != state.Setup.FloatMethod() {
		p.fact("", "%s, with %s", begunStays(word, begun.Row), chart.Plural(begun.Method.String(), 2))
	}
	if best := hold.Recommend(h.Hold, h.Carry); a.Recommended != a.Method {
		p.fact("", "a %s goes better with this hold: %s", best.Method, best.Reason)
	}
	lower := h.Dominant()
	if lower.Known {
		p.fact("dominant", "%s", dominantName(a.Grip, a.of.Layout.Fabric.Yarns)+", "+lower.Place.Phrase(a.Mirror))
	}
	if lower.Advice != "" {
		p.fact("", "%s", lower.Advice)
	}
	if a.Mirror {
		p.fact("mirror", "%s", hold.MirrorHolds)
	}
	if next := state.Next(); next > 0 {
		p.factText(fmt.Sprintf("%s %d", word, next), SeatText(a.of.YarnPlaces(next)))
	}
	p.next("the motions: strandwise motions")
	return p.document()
}

func begunStays(word string, row int) string {
	return fmt.Sprintf("%s %d is begun: it stays as it was shown", word, row)
}

func dominantName(grip session.Grip, yarns []chart.Yarn) string {
	for _, y := range yarns {
		if string(y.Symbol) == grip.Dominant {
			return y.Name
		}
	}
	return "the " + grip.Dominant + " yarn"
}
