package answer

import (
	"fmt"
	"strings"
	"time"

	d "strandwise/cmd/document"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// Standing is where a piece stands, as JSON of schema 2. Times are in seconds; 0 means not
// known.
type Standing struct {
	Piece      string             `json:"piece"`
	Row        int                `json:"row"` // finished rows
	Of         int                `json:"of"`
	BoundOff   bool               `json:"bound_off"`
	LastAt     time.Time          `json:"last_at"` // when something was last logged
	Done       *Row               `json:"done"`    // the last finished row as it was made; null when there is none
	Next       *Row               `json:"next"`    // the row to work; null when there is none
	Hold       string             `json:"hold"`
	Carry      string             `json:"carry"`
	Method     string             `json:"method"`
	Notes      []session.Note     `json:"notes"`  // open
	Missed     []int              `json:"missed"` // rows with a missed catch
	LongGaps   int                `json:"long_gaps"`
	Rests      []Resting          `json:"rests"`
	Turns      []Tangle           `json:"turns"`
	PerStitch  session.Seconds    `json:"seconds_per_stitch"`
	SecondsFar session.Seconds    `json:"seconds_so_far"`
	SecondsTo  session.Seconds    `json:"seconds_to_come"`
	Likely     [2]session.Seconds `json:"seconds_likely"` // from and to: between them it will lie nine times of ten; zeros when too few rows were measured

	of   *session.Piece
	word string // what a row of it is called
	pace session.Pace
	now  time.Time
}

// Resting is a yarn that waits; until is the row in which it is used again.
type Resting struct {
	Yarn  string `json:"yarn"` // name
	Until int    `json:"until"`
	Cut   bool   `json:"cut"`
}

// Tangle is turns of two yarns about each other, and how to take them out.
type Tangle struct {
	Yarns [2]string `json:"yarns"` // names
	Turns int       `json:"turns"`
	Words string    `json:"words"`
}

// NewStanding makes the answer; now is when it is asked for. It takes time linear in the stitches of the piece.
func NewStanding(p *session.Piece, now time.Time) *Standing {
	state, setup, pace := p.State, &p.State.Setup, p.Pace()
	a := &Standing{
		Piece: setup.Name, Row: state.Row, Of: p.Rows(), BoundOff: state.BoundOff, LastAt: state.LastAt,
		Hold: setup.Hold, Carry: setup.Carry, Method: setup.Method,
		Notes: state.OpenNotes(), Missed: p.Missed(), LongGaps: len(p.OverLimit()),
		PerStitch: pace.PerStitch, SecondsFar: pace.SoFar, SecondsTo: pace.ToCome, Likely: pace.Likely,
		of: p, word: session.RowWord(!setup.Flat), pace: pace, now: now,
	}
	name := func(yarn int) string { return p.Layout.Fabric.Yarns[yarn].Name }
	if state.Row > 0 {
		a.Done = NewRow(p.Sheet(state.Row), RowOptions{})
	}
	if next := state.Next(); next > 0 {
		a.Next = NewRow(p.Sheet(next), RowOptions{})
		a.Rests = mapped(p.Resting(next), func(r floats.Rest) Resting { return Resting{name(r.Yarn), r.ToRow + 2, r.Cut} })
	}
	a.Turns = mapped(p.Turns().Tangles(), func(t hold.Tangle) Tangle {
		one, other := name(t.A), name(t.B)
		return Tangle{[2]string{one, other}, t.Turns, t.Untangle(one, other)}
	})
	return a
}

// Document takes one screen.
func (a *Standing) Document() d.Document {
	p := &prose{}
	a.where(p)
	a.needles(p)
	a.yarns(p)
	a.open(p)
	a.time(p)
	a.comes(p)
	return d.Document{Yarns: a.of.Layout.Fabric.Yarns, Blocks: p.blocks}
}

func (a *Standing) where(p *prose) {
	last := fmt.Sprintf("last worked %s (%s)", ago(a.now.Sub(a.LastAt)), d.DayTime(a.LastAt))
	text := fmt.Sprintf(": you are on %s %d of %d; %s", a.word, a.Row+1, a.Of, last)
	switch {
	case a.BoundOff:
		text = fmt.Sprintf(": bound off after %s %d of %d; %s", a.word, a.Row, a.Of, last)
	case a.Next == nil:
		text = fmt.Sprintf(": all %d %ss are worked; %s", a.Of, a.word, last)
	}
	p.add(d.Line{Text: d.Named(a.Piece, text), Tone: d.Strong})
	if next := a.Next; next != nil {
		p.fact("where", "%s", partWords(next.Part))
		if next.Begun != nil {
			p.fact("begun", "%s", begunWords(next.sheet))
		}
	}
}

func (a *Standing) needles(p *prose) {
	if a.Done == nil || a.BoundOff {
		return
	}
	done := a.Done.sheet
	p.fact("done", "%s %d is on the needles, %s", a.word, done.Row, d.Counted(done.Makes(), "stitch"))
	p.add(GlanceBlocks(done, false)...)
	if len(done.Blocks) > 1 || len(done.Blocks[0].Often.Runs) > 1 {
		strip := StripOf(done)
		strip.Ruler = true
		p.add(strip)
	}
}

func (a *Standing) yarns(p *prose) {
	if a.Next == nil {
		return
	}
	p.fact("hold", "%s, %s carry, %s", a.Hold, a.Carry, a.Method)
	p.factText("yarns", SeatText(a.Next.YarnPlaces))
	setup := &a.of.State.Setup
	dominant := setup.Grip.Hands(setup.Mirror).Dominant()
	switch {
	case a.Done == nil || a.Carry == hold.Rotating.String():
	case dominant.Known:
		p.fact("check", "%s", hold.CheckDominant)
	case dominant.Advice != "":
		p.fact("check", "%s", dominant.Advice)
	}
}

func (a *Standing) open(p *prose) {
	for _, n := range a.Notes {
		about := ""
		if n.Row > 0 {
			about = fmt.Sprintf(", %s %d", a.word, n.Row)
		}
		p.fact("note", "%d%s: %s", n.Number, about, strings.Join(strings.Fields(n.Text), " "))
	}
	if len(a.Missed) > 0 {
		p.fact("missed", "catches in %s", rowList(a.word, a.Missed))
	}
	if a.LongGaps > 0 {
		p.fact("mend", "%s over the limit so far; strandwise review lists what to mend", d.Counted(a.LongGaps, "stretch"))
	}
	for _, r := range a.Rests {
		words := "%s rests until %s %d"
		if r.Cut {
			words = "%s is cut; rejoin it in %s %d"
		}
		p.fact("rest", words, r.Yarn, a.word, r.Until)
	}
	for _, t := range a.Turns {
		p.fact("turns", "%s", t.Words)
	}
}

func (a *Standing) comes(p *prose) {
	switch {
	case a.BoundOff:
		p.next("next: strandwise review")
	case a.Next == nil:
		p.next("next: strandwise bind-off")
	default:
		p.add(GlanceBlocks(a.Next.sheet, false)...)
		p.next("next: strandwise show")
	}
}

func (a *Standing) time(p *prose) {
	pace := a.pace
	switch {
	case pace.PerStitch == 0:
		p.fact("time", "not known yet: it takes two %ss logged as they are knitted", a.word)
	case pace.ToCome == 0:
		p.fact("time", "%s so far", spent(pace.SoFar))
	default:
		p.fact("time", "%s so far, %s to come at the usual pace%s", spent(pace.SoFar), roughly(time.Duration(pace.ToCome)), likely(pace))
	}
}

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
