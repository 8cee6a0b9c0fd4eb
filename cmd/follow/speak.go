package follow

import (
	"fmt"
	"unicode"

	"strandwise/cmd/answer"
	"strandwise/cmd/paint"
)

// Answer is what the last key did, and what else there is to say, such as the
// reminder to pause.
func (s State) Answer(look paint.Look) []string {
	p := &pad{look: look}
	news := s.news()
	if s.said.Text != "" {
		news = append([]Saying{s.said}, news...)
	}
	for _, n := range news {
		p.say("%s", n.Text)
	}
	return p.lines
}

// Matter is what the sitting is about now. While it stays the same it need not be
// told again.
func (s State) Matter(look paint.Look) []string {
	p := &pad{look: look}
	switch {
	case s.mode == noting:
		p.say("Write the note; enter keeps it, escape drops it.")
	case s.mode == choosing:
		s.speakChoice(p)
	case s.sheet != nil && !s.looking() && s.o.By != ByRow && s.mode == knitting:
		s.speakStretch(p)
	default:
		return s.body(look)
	}
	return p.lines
}

// speakStretch tells the run to work and the one after it, or the repeat, and what follows it.
func (s State) speakStretch(p *pad) {
	r := s.stretchAt(s.sheet, s.step)
	if s.step == 0 {
		s.speakRow(p)
	}
	if r.number == 1 && r.block.Repeats > 1 {
		block := ""
		if r.block.Number > 0 {
			block = fmt.Sprintf("block %d, ", r.block.Number)
		}
		p.say("%srepeat %d of %d", block, r.repeat, r.block.Repeats)
	}
	if s.o.By == ByRepeat {
		for _, phrase := range s.repeatPhrases(r) {
			p.say("%s", phrase.Aloud)
		}
		p.say("%s", s.afterRepeat())
		return
	}
	p.say("%s", s.phrase(s.runAt(s.sheet, s.step)).Aloud)
	p.say("%s", s.following()[0])
}

// speakRow tells what is to be known before the first run of a row.
func (s State) speakRow(p *pad) {
	p.say("%s %d of %d", s.word(), s.row, s.piece.Rows())
	if len(s.sheet.Moves) > 0 {
		p.say("%s", answer.SeatWords(s.sheet, s.sheet.YarnPlaces))
	}
	if s.sheet.Shapes() {
		p.say("%s after this %s", stitches(s.sheet.After), s.word())
	}
	for _, n := range s.sheet.Notes {
		p.say("%s", n.Text)
	}
	s.tellMotions(p, false)
}

// speakChoice tells the chosen catch.
func (s State) speakChoice(p *pad) {
	families := s.families()
	if len(families) == 0 {
		p.say("this %s has no catch; x adds one", s.word())
		return
	}
	f := families[s.pick.at]
	p.say("catch %d of %d: %s", s.pick.at+1, len(families), s.familyWords(f))
	p.say("%s", s.scope(f))
}

// sentence gives a text its capital and its stop.
func sentence(text string) string {
	runes := []rune(text)
	text = string(unicode.ToUpper(runes[0])) + string(runes[1:])
	if last := text[len(text)-1]; last != '.' && last != ':' {
		text += "."
	}
	return text
}
