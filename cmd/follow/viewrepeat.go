package follow

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/session"
)

// repeatView shows the repeat to work, its catches as they are made in it, and what follows it.
func (s State) repeatView(p *pad) {
	at := s.stretchAt(s.sheet, s.step)
	p.quiet("%s", s.placeWords(at))
	row := answer.GlanceRow(session.Glance{Number: s.row, Side: s.sheet.Glances()[0].Side, Often: repeatWords(at), Phrases: s.repeatPhrases(at)})
	row.Number, row.Large = fmt.Sprint(s.row), p.room.large
	p.doc(document.Document{Yarns: s.sheet.Yarns, Blocks: []document.Block{row}})
	p.say("%s", s.afterRepeat())
	s.madeStrip(p, at)
	s.aboutRow(p)
}

// repeatWords names the repeat on the screen.
func repeatWords(at stretch) string {
	switch {
	case at.block.Number == 0:
		return fmt.Sprintf("repeat %d", at.repeat)
	case at.block.Repeats == 1:
		return fmt.Sprintf("block %d", at.block.Number)
	}
	return fmt.Sprintf("block %d repeat %d", at.block.Number, at.repeat)
}

// repeatPhrases tells the runs of a repeat as they are made.
func (s State) repeatPhrases(at stretch) []session.Phrase {
	return s.sheet.Phrases(s.madeRuns(s.sheet, at.block, at.repeat))
}

// afterRepeat tells what comes after the repeat on the screen: how its catches differ is not said
// before it is there.
func (s State) afterRepeat() string {
	if s.step+1 >= s.steps() {
		return fmt.Sprintf("then the %s is done", s.word())
	}
	next := s.stretchAt(s.sheet, s.step+1)
	text := "then "
	if next.block.Number > 0 {
		text += fmt.Sprintf("block %d", next.block.Number)
	}
	if next.block.Repeats > 1 {
		text += fmt.Sprintf(", repeat %d", next.repeat)
	}
	return strings.Replace(text, "then , ", "then ", 1)
}

// madeStrip draws the row as it is made in a repeat.
func (s State) madeStrip(p *pad, at stretch) {
	strip := answer.StripOf(s.sheet)
	strip.Signs = s.madeSigns(at)
	p.doc(document.Document{Yarns: s.sheet.Yarns, Blocks: []document.Block{s.strip(p, strip)}})
}

// madeSigns is what stands under the stitches of the row while a repeat is worked: in its block
// the catches as they are made in it.
func (s State) madeSigns(at stretch) [][]string {
	signs := slices.Clone(answer.StripOf(s.sheet).Signs)
	if signs == nil {
		signs = make([][]string, len(s.sheet.Strips.Row))
	}
	column := func(stitch int) int { return s.sheet.Order[s.sheet.InPattern(at.block.Number, stitch)].Column }
	for stitch := range at.block.Order {
		signs[column(stitch+1)] = nil
	}
	for _, r := range s.madeRuns(s.sheet, at.block, at.repeat) {
		for _, c := range r.Catches {
			signs[column(c.Stitch)] = append(signs[column(c.Stitch)], answer.Sign(s.sheet.Yarns, c.Letter))
		}
	}
	return signs
}
