package answer

import (
	"fmt"
	"strings"

	d "strandwise/cmd/document"
	"strandwise/session"
)

// Notes is the answer of note, schema 2.
type Notes struct {
	Notes               []session.Note `json:"notes"`
	Round               bool           `json:"-"`
	NowSaved, NowClosed int            `json:"-"` // the number of a note that was; 0 where none
}

// Document tells what was done, or lists the notes.
func (a *Notes) Document() d.Document {
	p := &prose{}
	switch {
	case a.NowClosed > 0:
		p.act("note %d closed", a.NowClosed)
	case a.NowSaved > 0:
		p.act("note %d saved", a.NowSaved)
		p.next("to close it: strandwise note --done %d", a.NowSaved)
	case len(a.Notes) == 0:
		p.act("no open notes")
		p.next(`strandwise note "what to remember"`)
	default:
		for _, n := range a.Notes {
			about := ""
			if n.Closed {
				about = "closed; "
			}
			if n.Row > 0 {
				about += fmt.Sprintf("%s %d: ", session.RowWord(a.Round), n.Row)
			}
			p.numbered(fmt.Sprintf("%d ", n.Number), about, strings.Join(strings.Fields(n.Text), " "))
		}
	}
	return p.document()
}
