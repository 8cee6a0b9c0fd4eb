package render

import (
	"fmt"
	"strings"

	"strandwise/session"
)

// plain writes the sheet for a speech program: a sentence a run, words for signs, no
// columns, always in this order.
func (p *sheetPage) plain() {
	s := p.s
	p.sentence("%s %d of %d of %s", s.Word(), s.Row, s.Of, s.Piece)
	for _, run := range s.Runs {
		p.sentence("%s", runWords(s, run))
	}
	if s.Repeats > 1 {
		p.sentence("do this %d times", s.Repeats)
	}
	for _, words := range differing(s) {
		p.sentence("%s", spoken(s, words))
	}
	if p.o.Why {
		for _, line := range p.moved() {
			p.sentence("moved: %s", line)
		}
	}
	if s.Begun > 0 {
		p.sentence("%s", begun(s))
	}
	p.sentence("%s", direction(s))
	p.sentence("%s", partWords(s.Part))
	if s.Twin != nil {
		p.sentence("this %s %s", s.Word(), strings.Replace(twin(s), "the same", "is the same", 1))
	}
	if len(s.Moves) > 0 || p.o.YarnPlaces {
		for _, words := range strings.Split(SeatWords(s, s.YarnPlaces), "; ") {
			p.sentence("%s", words)
		}
	}
	if len(s.Shaping) > 0 {
		p.sentence("%s", shaping(s))
	}
	for _, n := range s.Notes {
		p.sentence("%s", n.Text)
	}
	for i := range s.Motions {
		p.plainMotion(&s.Motions[i])
	}
	for _, c := range s.Cautions {
		p.sentence("%s", c)
	}
}

// runWords tells a run and its catches: "11 fjord, catch oat on stitch 6".
func runWords(s *session.Sheet, run session.Run) string {
	text := fmt.Sprintf("%d %s", run.Stitches, s.Yarns[run.Yarn].Name)
	for _, c := range run.Catches {
		text += fmt.Sprintf(", catch %s %s stitch %d", s.Yarns[c.Yarn].Name, s.CatchWord(), c.InRun)
		if c.Moved {
			text += fmt.Sprintf(", moved to fit the %s below", s.Word())
		}
	}
	return text
}

// spoken puts words for the sign of a moved catch.
func spoken(s *session.Sheet, words string) string {
	return strings.ReplaceAll(words, session.MovedSign, fmt.Sprintf(" (moved to fit the %s below)", s.Word()))
}

func direction(s *session.Sheet) string {
	way := "from right to left"
	if s.FromLeft {
		way = "from left to right"
	}
	if s.Round {
		return "the chart reads " + way
	}
	return fmt.Sprintf("%s facing, the chart reads %s", side(s), way)
}

func (p *sheetPage) plainMotion(m *session.SheetMotion) {
	if m.Known && !p.o.Steps {
		p.sentence("to %s, %s%s", catching(p.s, m), shortFor(m), lifting(m))
		return
	}
	p.sentence("to %s, in %s", catching(p.s, m), counted(len(stepsFor(m)), "step", "steps"))
	for _, step := range stepsFor(m) {
		p.sentence("%s", step)
	}
	for _, more := range motionNotes(m, p.o.Steps) {
		p.sentence("%s", more)
	}
}
