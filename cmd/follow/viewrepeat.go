package follow

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/paint"
	"strandwise/session"
)

// repeatView shows the repeat to work, its catches as they are made in it, and what follows it.
func (s State) repeatView(p *pad) {
	at := s.stretchAt(s.sheet, s.step)
	p.quiet("%s", s.placeWords(at))
	p.add(paint.Wrap("", fitting(s.repeatPieces(p, at), p.look.Width), p.look.Width)...)
	p.say("%s", s.afterRepeat())
	s.madeStrip(p, at)
	s.aboutRow(p)
}

// repeatPhrases tells the runs of a repeat as they are made.
func (s State) repeatPhrases(at stretch) []session.Phrase {
	return s.sheet.Phrases(s.madeRuns(s.sheet, at.block, at.repeat))
}

// repeatPieces is the repeat for a glance, standing out.
func (s State) repeatPieces(p *pad, at stretch) []paint.Span {
	phrases := s.repeatPhrases(at)
	pieces := make([]paint.Span, len(phrases))
	for i, phrase := range phrases {
		pieces[i] = paint.Span{Text: phrase.Text(), Style: p.look.Paint.Strong}
		if i < len(phrases)-1 {
			pieces[i].Text += ","
		}
	}
	return pieces
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
