package render

import (
	"fmt"
	"strings"

	"strandwise/cmd/answer"
	"strandwise/cmd/draw"
	"strandwise/session"
)

// Cards is a piece as paper to knit from: the chart first, then row by row what a sheet shows,
// with a box to tick. Every row is as it will be shown if those before it are worked as shown.
type Cards struct {
	Title    string
	Intro    []string // how it is worked
	Cautions []string
	Chart    *draw.Knitted // what the chart pages draw
	Inches   bool
	Rows     []CardRow
}

// CardRow is one row to work.
type CardRow struct {
	Number       int
	Word         string   // round or row
	Glance       string   // the row to be read aloud; no line breaks within a run
	OtherRepeats []string // the same of repeats with other catches
	Place        string
	Notes        []string // what else to know, in order
	Motions      []CardMotion
	Strip        *draw.Scene
	Begins       []string // cautions, at the first row of a part
}

// CardMotion is how a catch is made: in full where it is new on these cards, in a few words where
// the row before wanted another.
type CardMotion struct {
	Title string
	Steps []string
	Notes []string
}

// NewCards makes the cards of rows from one to another, both in, from 1. Finished rows are shown
// as they were worked.
func NewCards(p *session.Piece, from, to int, inches bool) *Cards {
	c := &Cards{
		Title: p.State.Setup.Name, Inches: inches,
		Intro: cardsIntro(p, from, to), Cautions: append(p.State.Setup.Item.Cautions(), session.HandCautions...),
	}
	m := &motionCards{shown: map[string]bool{}}
	var sheets []*session.Sheet
	for row := from; row <= to; row++ {
		sheet := p.Sheet(row)
		sheets = append(sheets, sheet)
		c.Rows = append(c.Rows, cardRow(sheet, m, row == from))
	}
	c.Chart = chartToKnit(p, sheets)
	return c
}

// cardsIntro tells how the piece is worked.
func cardsIntro(p *session.Piece, from, to int) []string {
	setup, seg := &p.State.Setup, p.State.SegmentAt(to)
	word, how := "Rounds", "Worked in the round"
	if setup.Flat {
		word, how = "Rows", "Worked flat"
	}
	if setup.Mirror {
		how += ", from the right needle to the left"
	}
	intro := []string{
		fmt.Sprintf("%s %d to %d of %d. %s. No yarn passes more than %s uncaught.", word, from, to, p.Rows(), how, countOf(seg.Limit, "stitch")),
		fmt.Sprintf("Hold: %s, %s carry, %s.", setup.Hold, setup.Carry, setup.Method),
	}
	if seg.Gauge != "" {
		intro = append(intro, fmt.Sprintf("Gauge: %s.", seg.Gauge))
	}
	return append(intro, fmt.Sprintf("Read a %s as it stands: count and yarn, and in brackets the stitches before, between and after the catches, which have letters. Tick the box when it is done.",
		strings.ToLower(strings.TrimSuffix(word, "s"))))
}

func cardRow(s *session.Sheet, m *motionCards, first bool) CardRow {
	glances := s.Glances()
	c := CardRow{
		Number: s.Row, Word: s.Word(), Glance: unbroken(glances[0]), Place: cardPlace(s),
		Strip: draw.Strip(s), Motions: m.of(s), Begins: s.Cautions,
	}
	for _, g := range glances[1:] {
		c.OtherRepeats = append(c.OtherRepeats, unbroken(g))
	}
	switch {
	case first && len(s.YarnPlaces) > 0:
		c.Begins = nil // they stand at the head of the cards
		c.Notes = append(c.Notes, answer.SeatWords(s, s.YarnPlaces))
	case len(s.Moves) > 0:
		c.Notes = append(c.Notes, answer.SeatWords(s, s.Moves))
	}
	if s.Shapes() {
		c.Notes = append(c.Notes, fmt.Sprintf("%s after this %s", countOf(s.After, "stitch"), s.Word()))
	}
	for _, n := range s.Notes {
		c.Notes = append(c.Notes, n.Text)
	}
	return c
}

// cardPlace tells where the row stands in its part.
func cardPlace(s *session.Sheet) string {
	text := answer.PartWords(s.Part)
	if s.Twin != nil {
		text += "; " + answer.TwinWords(s)
	}
	return text
}

// motionCards remembers which motions stand on the cards already.
type motionCards struct {
	shown map[string]bool
	last  map[string]bool // those of the latest row with catches
}

// of gives the motions that are not those of the row before: in full the first time, in short
// when they come back.
func (m *motionCards) of(s *session.Sheet) []CardMotion {
	if len(s.Motions) == 0 {
		return nil
	}
	var cards []CardMotion
	now := map[string]bool{}
	for i := range s.Motions {
		motion := &s.Motions[i]
		title := answer.MotionTitle(s, motion)
		key := title + strings.Join(motion.StepsFor(motion.Way), "\n")
		now[key] = true
		switch {
		case m.last[key]:
		case m.shown[key]:
			cards = append(cards, CardMotion{Title: lettered(motion.Letters, title), Steps: []string{motion.ShortFor(motion.Way)}})
		default:
			cards = append(cards, CardMotion{lettered(motion.Letters, title), motion.StepsFor(motion.Way), answer.MotionNotes(motion, true)})
		}
		m.shown[key] = true
	}
	m.last = now
	return cards
}

// chartToKnit is the chart of rows to work: one repeat with the catches that most repeats have;
// the rows say where repeats differ.
func chartToKnit(p *session.Piece, sheets []*session.Sheet) *draw.Knitted {
	from, to := sheets[0].Row, sheets[len(sheets)-1].Row
	k := &draw.Knitted{Piece: p, Begin: from, Rows: to, Planned: true, Marks: make([][]draw.Mark, to)}
	for _, s := range sheets {
		r := p.Row(s.Row)
		if !s.Part.Plain {
			k.Across = max(k.Across, len(r.Cells))
		}
		for rep := range r.Repeats {
			for _, c := range s.Often.Catches {
				mark := session.Mark{Stitch: c.Stitch + rep*r.RepeatStitches(), Yarn: c.Yarn}
				k.Marks[s.Row-1] = append(k.Marks[s.Row-1], draw.Mark{Mark: mark})
			}
		}
	}
	if k.Across == 0 {
		k.Across = min(plainAcross, k.Columns())
	}
	return k
}

// plainAcross is how many columns of plain rows are drawn when there is nothing else.
const plainAcross = 20

// lettered puts the letters of the catches that a motion makes before what it does.
func lettered(letters []string, title string) string {
	if len(letters) == 0 {
		return title
	}
	return strings.Join(letters, ", ") + ": " + title
}
