package answer

import (
	"fmt"
	"strings"
	"time"

	"strandwise/chart"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"

	d "strandwise/cmd/document"
)

// Standing is where a piece stands, as JSON of schema 2. Times are in seconds; 0 means not
// known.
type Standing struct {
	Piece      string         `json:"piece"`
	Row        int            `json:"row"` // finished rows
	Of         int            `json:"of"`
	BoundOff   bool           `json:"bound_off"`
	LastAt     time.Time      `json:"last_at"` // when something was last logged
	Done       *Row           `json:"done"`    // the last finished row as it was made; null when there is none
	Next       *Row           `json:"next"`    // the row to work; null when there is none
	Hold       string         `json:"hold"`
	Carry      string         `json:"carry"`
	Method     string         `json:"method"`
	Notes      []session.Note `json:"notes"`  // open
	Missed     []int          `json:"missed"` // rows with a missed catch
	LongGaps   int            `json:"long_gaps"`
	Rests      []Resting      `json:"rests"`
	Turns      []Tangle       `json:"turns"`
	PerStitch  float64        `json:"seconds_per_stitch"`
	SecondsFar float64        `json:"seconds_so_far"`
	SecondsTo  float64        `json:"seconds_to_come"`
	Likely     [2]float64     `json:"seconds_likely"` // from and to: between them it will lie nine times of ten; zeros when too few rows were measured

	of               *session.Piece
	doneRow, nextRow *session.Sheet // what Done and Next are of; nil when they are null
	pace             session.Pace
	now              time.Time
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

// NewStanding makes the answer; now is when it is asked for. It takes time linear in the stitches of
// the piece.
func NewStanding(p *session.Piece, now time.Time) *Standing {
	state, setup, pace := p.State, &p.State.Setup, p.Pace()
	a := &Standing{
		Piece: setup.Name, Row: state.Row, Of: p.Rows(), BoundOff: state.BoundOff, LastAt: state.LastAt,
		Hold: setup.Hold, Carry: setup.Carry, Method: setup.Method,
		Notes: state.OpenNotes(), Missed: p.Missed(), LongGaps: len(p.OverLimit()),
		PerStitch: pace.PerStitch.Seconds(), SecondsFar: pace.SoFar.Seconds(), SecondsTo: pace.ToCome.Seconds(),
		Likely: [2]float64{pace.Likely[0].Seconds(), pace.Likely[1].Seconds()},
		of:     p, pace: pace, now: now,
	}
	name := func(yarn int) string { return p.Layout.Fabric.Yarns[yarn].Name }
	if state.Row > 0 {
		a.doneRow = p.Sheet(state.Row)
		a.Done = NewRow(a.doneRow, RowOptions{})
	}
	if next := state.Next(); next > 0 {
		a.nextRow = p.Sheet(next)
		a.Next = NewRow(a.nextRow, RowOptions{})
		a.Rests = mapped(p.Resting(next), func(r floats.Rest) Resting { return Resting{name(r.Yarn), r.ToRow + 2, r.Cut} })
	}
	a.Turns = mapped(p.Turns().Tangles(), func(t hold.Tangle) Tangle {
		one, other := name(t.A), name(t.B)
		return Tangle{[2]string{one, other}, t.Turns, t.Untangle(one, other)}
	})
	return a
}

// Document tells on one screen: where, what the needles should show, how the yarns are held,
// what is open, what comes next, the time.
func (a *Standing) Document() d.Document {
	b := standingBuilder{Standing: a, word: session.RowWord(!a.of.Layout.Fabric.Flat)}
	b.where()
	b.needles()
	b.yarns()
	b.open()
	b.time()
	b.comes()
	return d.Document{Yarns: b.shown, Blocks: b.blocks}
}

// standingBuilder makes the document.
type standingBuilder struct {
	prose
	*Standing
	word  string
	shown []chart.Yarn
}

func (b *standingBuilder) where() {
	last := fmt.Sprintf("last worked %s (%s)", ago(b.now.Sub(b.LastAt)), d.DayTime(b.LastAt))
	text := fmt.Sprintf(": you are on %s %d of %d; %s", b.word, b.Row+1, b.Of, last)
	switch {
	case b.BoundOff:
		text = fmt.Sprintf(": bound off after %s %d of %d; %s", b.word, b.Row, b.Of, last)
	case b.nextRow == nil:
		text = fmt.Sprintf(": all %d %ss are worked; %s", b.Of, b.word, last)
	}
	b.add(d.Line{Text: d.Named(b.Piece, text), Tone: d.Strong})
	if next := b.nextRow; next != nil {
		b.shown = next.Yarns
		b.fact("where", "%s", partWords(next.Part))
		if next.Begun > 0 {
			b.fact("begun", "%s", begunWords(next))
		}
	}
}

// needles shows the last finished row.
func (b *standingBuilder) needles() {
	done := b.doneRow
	if done == nil || b.BoundOff {
		return
	}
	b.fact("done", "%s %d is on the needles, %s", b.word, done.Row, d.Counted(done.Makes(), "stitch"))
	b.shown = done.Yarns
	b.add(GlanceBlocks(done, false)...)
	if len(done.Blocks) > 1 || len(done.Blocks[0].Often.Runs) > 1 {
		strip := StripOf(done)
		strip.Ruler = true
		b.add(strip)
	}
}

// yarns tells where each yarn sits and how to check which is dominant.
func (b *standingBuilder) yarns() {
	if b.nextRow == nil {
		return
	}
	b.fact("hold", "%s, %s carry, %s", b.Hold, b.Carry, b.Method)
	b.factText("yarns", seatText(b.nextRow, b.nextRow.YarnPlaces))
	setup := &b.of.State.Setup
	dominant := setup.Grip.Hands(setup.Mirror).Dominant()
	switch {
	case b.doneRow == nil || b.Carry == hold.Rotating.String():
	case dominant.Known:
		b.fact("check", "%s", hold.CheckDominant)
	case dominant.Advice != "":
		b.fact("check", "%s", dominant.Advice)
	}
}

// open tells what is not done with.
func (b *standingBuilder) open() {
	for _, n := range b.Notes {
		about := ""
		if n.Row > 0 {
			about = fmt.Sprintf(", %s %d", b.word, n.Row)
		}
		b.fact("note", "%d%s: %s", n.Number, about, strings.Join(strings.Fields(n.Text), " "))
	}
	if len(b.Missed) > 0 {
		b.fact("missed", "catches in %s", rowList(b.word, b.Missed))
	}
	if b.LongGaps > 0 {
		b.fact("mend", "%s over the limit so far; strandwise review lists what to mend", d.Counted(b.LongGaps, "stretch"))
	}
	for _, r := range b.Rests {
		words := "%s rests until %s %d"
		if r.Cut {
			words = "%s is cut; rejoin it in %s %d"
		}
		b.fact("rest", words, r.Yarn, b.word, r.Until)
	}
	for _, t := range b.Turns {
		b.fact("turns", "%s", t.Words)
	}
}

// comes shows the row that comes next, at a glance, and the command that goes on.
func (b *standingBuilder) comes() {
	switch {
	case b.BoundOff:
		b.next("next: strandwise review")
	case b.nextRow == nil:
		b.next("next: strandwise bind-off")
	default:
		b.add(GlanceBlocks(b.nextRow, false)...)
		b.next("next: strandwise show")
	}
}

func (b *standingBuilder) time() {
	pace := b.pace
	switch {
	case pace.PerStitch == 0:
		b.fact("time", "not known yet: it takes two %ss logged as they are knitted", b.word)
	case pace.ToCome == 0:
		b.fact("time", "%s so far", d.Spent(pace.SoFar))
	default:
		b.fact("time", "%s so far, %s to come at the usual pace%s", d.Spent(pace.SoFar), roughly(pace.ToCome), likely(pace))
	}
}
