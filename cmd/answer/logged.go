package answer

import (
	"fmt"
	"time"

	d "strandwise/cmd/document"
	"strandwise/session"
)

// Logged is what logging or correcting rows did, as JSON of schema 2.
type Logged struct {
	Logged      []LoggedRow   `json:"logged"`
	LongGaps    []session.Gap `json:"long_gaps"`    // over the limit, left by the last of these rows
	NextChanged bool          `json:"next_changed"` // the next row's catches are not the plan's
	Next        *Row          `json:"next"`         // null when no row is left

	of        *session.Piece
	aloud     []string // the changes of the first row as they are heard
	corrected bool     // it is a row of before that was corrected
}

// LoggedRow is a row as it stands in the log.
type LoggedRow struct {
	Row         int                   `json:"row"`
	Shown       []session.LoggedCatch `json:"shown"`
	Used        []session.LoggedCatch `json:"used"`
	Changes     []string              `json:"changes"`     // the runs that were made otherwise, as they were made
	Unwitnessed bool                  `json:"unwitnessed"` // knitted without the program
}

// NewLogged makes the answer of rows that were logged, both in; gaps are told of the last.
func NewLogged(p *session.Piece, from, to int) *Logged {
	a := &Logged{of: p, LongGaps: p.LongGaps(to)}
	for row := from; row <= to; row++ {
		done := p.State.DoneRow(row)
		changes, aloud := p.AsMade(row)
		if row == from {
			a.aloud = aloud
		}
		a.Logged = append(a.Logged, LoggedRow{row, p.Logged(row, done.Shown), p.Logged(row, done.Used), changes, done.Unwitnessed})
	}
	if next := p.State.Next(); next > 0 {
		a.NextChanged = p.Departs(next)
		a.Next = NewRow(p.Sheet(next), RowOptions{})
	}
	return a
}

// NewCorrected makes the answer of an earlier row that was corrected.
func NewCorrected(p *session.Piece, row int) *Logged {
	a := NewLogged(p, row, row)
	a.corrected = true
	return a
}

// Document tells what was logged, which strands that leaves too long, and the row to work.
func (a *Logged) Document() d.Document {
	p, of := &prose{}, a.of
	word, row, next := session.RowWord(!of.State.Setup.Flat), a.Logged[len(a.Logged)-1].Row, of.State.Next()
	p.act("%s", a.heading(word, row))
	for i, line := range a.Logged[0].Changes {
		p.add(d.Line{Text: d.Text{{Text: line, Aloud: a.aloud[i], Name: true}}, Indent: 2, Extra: true})
	}
	for _, line := range of.GapWords(row, a.LongGaps) {
		p.add(d.Line{Label: "too long: ", Text: Catches(line), Tone: d.Warning})
	}
	if len(a.LongGaps) > 0 {
		p.item("%s", of.Mended())
	}
	if !a.corrected {
		yarns := of.Layout.Fabric.Yarns
		for _, t := range of.NewTurns() {
			p.item("%s", t.Untangle(yarns[t.A].Name, yarns[t.B].Name))
		}
	}
	if a.NextChanged {
		p.act("the catches of %s %d are moved to fit", word, next)
	}
	switch {
	case a.corrected && a.NextChanged:
		p.next("strandwise show, for the %s to work now", word)
	case a.corrected:
	case next == 0:
		p.act("all %s are worked", d.Counted(of.Rows(), word))
		p.next("next: strandwise bind-off")
	default:
		p.add(d.Act(d.Text{{Text: " ", Whole: true}})) // an empty line
		sheet := a.Next.Document()
		sheet.Blocks = append(p.blocks, sheet.Blocks...)
		return sheet
	}
	return p.document()
}

func (a *Logged) heading(word string, row int) string {
	first, changed := a.Logged[0].Row, a.of.Changes(row).Any()
	switch {
	case a.corrected && !changed:
		return fmt.Sprintf("%s %d corrected: all its catches were made as shown", word, row)
	case a.corrected:
		return fmt.Sprintf("%s %d corrected:", word, row)
	case row > first:
		return fmt.Sprintf("%ss %d to %d logged as already knitted", word, first, row)
	case a.Logged[0].Unwitnessed:
		return fmt.Sprintf("%s %d logged as already knitted", word, row)
	case !changed:
		return fmt.Sprintf("%s %d logged as planned", word, row)
	}
	return fmt.Sprintf("%s %d logged, with changes:", word, row)
}

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
		p.add(d.Act(d.Named(a.Piece, " is bound off after "+d.Counted(a.Row, word))))
		if left := a.Of - a.Row; left > 0 {
			p.item("%s not knitted; strandwise undo, if that was not meant", d.Counted(left, word))
		}
		p.eachItem(a.of.State.Setup.Cautions())
		p.next("next: strandwise review")
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

// History is the answer of history, schema 2.
type History struct {
	Events []Event `json:"events"`

	before int // events before these
}

// Event is one event; undone tells that it does not hold, of an undoing that it was redone.
type Event struct {
	Number uint64    `json:"number"`
	At     time.Time `json:"at"`
	Kind   string    `json:"kind"`
	Words  string    `json:"words"`
	Undone bool      `json:"undone"`
}

// NewHistory makes the answer of the last events of a piece; 0 is all.
func NewHistory(p *session.Piece, last int) *History {
	log, a := p.State.History(), &History{}
	if last > 0 {
		a.before = max(0, len(log)-last)
	}
	a.Events = mapped(log[a.before:], func(e session.Entry) Event { return Event{e.Seq, e.At, e.Kind().String(), p.Words(e), e.Canceled} })
	return a
}

// Document tells an event a line.
func (a *History) Document() d.Document {
	p := &prose{}
	if a.before > 0 {
		p.item("%s before these: strandwise history --last 0", d.Counted(a.before, "line"))
	}
	width := len(fmt.Sprint(a.Events[len(a.Events)-1].Number))
	for _, e := range a.Events {
		p.numbered(fmt.Sprintf("%*d ", width, e.Number), d.DayTime(e.At)+" ", e.Words)
	}
	return p.document()
}
