package render

import (
	"fmt"
	"io"
	"strings"
	"time"

	"strandwise/cmd/paint"
	"strandwise/session"
	"strandwise/session/hold"
)

// Standing writes where a piece stands, on one screen: where, what the needles should
// show, how the yarns are held, what is open, what comes next, the time.
func Standing(w io.Writer, st *session.Standing, now time.Time, look Look) error {
	p := &standingPage{page: page{w: w, look: look}, st: st}
	p.where(now)
	p.needles()
	p.yarns()
	p.open()
	p.next()
	p.time()
	return p.err
}

type standingPage struct {
	page
	st *session.Standing
}

// item writes a line with a label, which stands alone in plain text.
func (p *standingPage) item(label, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if p.look.Plain {
		p.sentence("%s: %s", label, text)
		return
	}
	p.text(paint.Pad(label, labelWidth)+" ", text, nil)
}

// labelWidth is the columns of the labels.
const labelWidth = 6

func (p *standingPage) word() string { return session.RowWord(p.st.Round) }

// headline is the first line.
func (p *standingPage) headline(text string) {
	if p.look.Plain {
		p.sentence("%s", text)
		return
	}
	p.text("", text, p.look.Paint.Strong)
}

func (p *standingPage) where(now time.Time) {
	st := p.st
	last := fmt.Sprintf("last worked %s (%s)", ago(now.Sub(st.LastAt)), dayTime(st.LastAt))
	switch {
	case st.BoundOff:
		p.headline(fmt.Sprintf("%s: bound off after %s %d of %d; %s", st.Piece, p.word(), st.Row, st.Of, last))
	case st.Next == nil:
		p.headline(fmt.Sprintf("%s: all %d %ss are worked; %s", st.Piece, st.Of, p.word(), last))
	default:
		p.headline(fmt.Sprintf("%s: you are on %s %d of %d; %s", st.Piece, p.word(), st.Row+1, st.Of, last))
		p.item("where", "%s", partWords(st.Next.Part))
		if st.Next.Begun > 0 {
			p.item("begun", "%s", begun(st.Next))
		}
	}
}

// needles shows the last finished row.
func (p *standingPage) needles() {
	done := p.st.Done
	if done == nil || p.st.BoundOff {
		return
	}
	if p.look.Plain {
		number, runs := done.Glance()
		p.sentence("on the needles, %s %s %s", p.word(), number, strings.Join(runs, " "))
		return
	}
	p.item("done", "%s %d is on the needles, %s", p.word(), done.Row, counted(done.After, "stitch", "stitches"))
	if len(done.Runs) == 1 {
		p.text(strings.Repeat(" ", labelWidth+1), fmt.Sprintf("all of it %s", done.Yarns[done.Runs[0].Yarn].Name), nil)
		return
	}
	WriteStrip(p.look, p.line, Strip{
		Yarns: done.Yarns, Row: done.Row, Cells: done.Strips.Row, FromLeft: done.FromLeft, Signs: SheetSigns(done, p.look.Marks), Ruler: true,
	})
}

// yarns tells where each yarn sits and how to check which is dominant.
func (p *standingPage) yarns() {
	st := p.st
	if st.Next == nil {
		return
	}
	p.item("hold", "%s, %s carry, %s", st.Hold, st.Carry, st.Method)
	p.item("yarns", "%s", SeatWords(st.Next, st.Next.YarnPlaces))
	switch {
	case st.Done == nil || st.Carry == hold.Rotating.String():
	case st.Dominant.Known:
		p.item("check", "%s", hold.CheckDominant)
	case st.Dominant.Advice != "":
		p.item("check", "%s", st.Dominant.Advice)
	}
}

// open tells what is not done with.
func (p *standingPage) open() {
	st := p.st
	for _, n := range st.Notes {
		about := ""
		if n.Row > 0 {
			about = fmt.Sprintf(", %s %d", p.word(), n.Row)
		}
		p.item("note", "%d%s: %s", n.Seq, about, strings.Join(strings.Fields(n.Text), " "))
	}
	if len(st.Missed) > 0 {
		p.item("missed", "catches in %s %s", p.word(), strings.Join(Ranges(st.Missed), ", "))
	}
	if st.Gaps > 0 {
		p.item("mend", "%s over the limit so far; strandwise review lists what to mend", counted(st.Gaps, "stretch", "stretches"))
	}
	for _, r := range st.Rests {
		p.item("rest", "%s", st.RestWords(r))
	}
	for _, t := range st.Turns {
		p.item("turns", "%s", t.Untangle(st.Yarns[t.A], st.Yarns[t.B]))
	}
}

// next shows the row that comes next, at a glance.
func (p *standingPage) next() {
	if p.st.Next == nil {
		return
	}
	if p.look.Plain {
		number, runs := p.st.Next.Glance()
		p.sentence("next, %s %s %s", p.word(), number, strings.Join(runs, " "))
		return
	}
	sheet := &sheetPage{page: p.page, s: p.st.Next}
	sheet.glance()
	p.err = sheet.err
}

func (p *standingPage) time() {
	pace := p.st.Pace
	switch {
	case pace.PerStitch == 0:
		p.item("time", "not known yet: it takes two %ss logged as they are knitted", p.word())
	case pace.ToCome == 0:
		p.item("time", "%s so far", Spent(pace.SoFar))
	default:
		p.item("time", "%s so far, %s to come at the usual pace", Spent(pace.SoFar), roughly(pace.ToCome))
	}
}

// roughly is a length of time that is an estimate.
func roughly(d time.Duration) string {
	if d < time.Minute/2 {
		return Spent(d)
	}
	return "about " + Spent(d)
}

// ago says roughly how long ago something was.
func ago(d time.Duration) string {
	const day = 24 * time.Hour
	switch {
	case d < time.Minute:
		return "just now"
	case d < 2*time.Hour:
		return Spent(d) + " ago"
	case d < 2*day:
		return fmt.Sprintf("%d hours ago", d/time.Hour)
	case d < 60*day:
		return fmt.Sprintf("%d days ago", d/day)
	}
	return fmt.Sprintf("%d months ago", d/(30*day))
}
