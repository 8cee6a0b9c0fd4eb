package answer

import (
	"fmt"
	"time"

	d "strandwise/cmd/document"
	"strandwise/session"
)

// Pieces is the answer of pieces, schema 1.
type Pieces struct {
	Pieces []Piece `json:"pieces"`
	Begin  string  `json:"-"` // how to begin, where there is none
}

// Piece is a piece; current is the one commands are about.
type Piece struct {
	Name     string    `json:"name"`
	Current  bool      `json:"current"`
	Row      int       `json:"row"` // finished rows
	Of       int       `json:"of"`
	LastAt   time.Time `json:"last_at"`
	BoundOff bool      `json:"bound_off"`
	Round    bool      `json:"-"`
}

// Document tells a piece a line, a star at the current one.
func (a *Pieces) Document() d.Document {
	p := &prose{}
	for _, piece := range a.Pieces {
		text := d.Named(piece.Name, fmt.Sprintf(": %s; last worked %s", piece.Standing(), d.DayTime(piece.LastAt)))
		sign := "  "
		if piece.Current {
			sign = "* "
			text = append(text, d.Span{Aloud: "; it is the current piece"})
		}
		p.add(d.Line{Label: sign, Text: text})
	}
	if len(a.Pieces) == 0 {
		p.act("no pieces yet")
		p.next("next: %s", a.Begin)
	}
	return p.document()
}

// Standing is how far a piece is.
func (a Piece) Standing() string {
	word := session.RowWord(a.Round)
	switch {
	case a.BoundOff:
		return fmt.Sprintf("bound off after %s %d of %d", word, a.Row, a.Of)
	case a.Row >= a.Of:
		return fmt.Sprintf("all %d %ss are worked", a.Of, word)
	}
	return fmt.Sprintf("%d of %d %ss are worked", a.Row, a.Of, word)
}
