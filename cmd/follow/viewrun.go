package follow

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/cmd/answer"
	"strandwise/cmd/paint"
	"strandwise/session"
)

// runView shows the run to work, large, and what follows it.
func (s State) runView(p *pad) {
	r := s.runAt(s.sheet, s.step)
	p.quiet("%s", s.placeWords(r.stretch))
	s.card(p, r)
	for _, line := range s.following() {
		p.say("%s", line)
	}
	p.add("")
	s.wholeRow(p, r)
	if p.room.laid {
		s.madeStrip(p, r.stretch)
	}
	s.aboutRow(p)
}

// aboutRow tells what else there is to know of the row to work.
func (s State) aboutRow(p *pad) {
	if len(s.sheet.Moves) > 0 {
		p.quiet("%s", answer.SeatWords(s.sheet, s.sheet.YarnPlaces))
	}
	if s.sheet.Shapes() {
		p.quiet("%s after this %s", stitches(s.sheet.After), s.word())
	}
	for _, n := range s.sheet.Notes {
		p.quiet("%s", n.Text)
	}
	s.tellMotions(p, false)
}

// placeWords tells where in the piece a stretch stands.
func (s State) placeWords(r stretch) string {
	text := fmt.Sprintf("%s %d of %d", s.word(), s.row, s.piece.Rows())
	if r.block.Number > 0 {
		text += fmt.Sprintf(", block %d", r.block.Number)
	}
	if r.block.Repeats > 1 {
		text += fmt.Sprintf(", repeat %d of %d", r.repeat, r.block.Repeats)
	}
	if s.o.By == ByRun {
		text += fmt.Sprintf(", run %d of %d", r.number, r.of)
	}
	first := s.sheet.PlaceOf(r.from).Stitch
	text += fmt.Sprintf(", stitch %d", first)
	if r.stitches > 1 {
		text += fmt.Sprintf(" to %d", first+r.stitches-1)
	}
	return text
}

// card sets the count in large figures on the yarn's color, and beside it the yarn
// and how the run goes.
func (s State) card(p *pad, r run) {
	yarn := s.sheet.Yarns[r.told.Yarn]
	figures := large(r.stitches, p.look.Marks.Block)
	wide := paint.Width(figures[0])
	beside := []string{"", p.look.Paint.Strong(cut(yarn.Name, max(1, p.look.Width-wide-2)))}
	for _, line := range wrapped(s.runWords(r), max(8, p.look.Width-wide-2)) {
		beside = append(beside, p.look.Paint.Strong(line))
	}
	for i := range max(len(figures), len(beside)) {
		left, right := strings.Repeat(" ", wide), ""
		if i < len(figures) {
			left = p.look.Paint.Yarn(figures[i], yarn.Color)
		}
		if i < len(beside) {
			right = beside[i]
		}
		p.add(strings.TrimRight(left+"  "+right, " "))
	}
}

// phrase is a run as it is told.
func (s State) phrase(r run) session.Phrase { return s.sheet.Phrases([]session.Run{r.told})[0] }

// runWords tells how a run goes, its catches where they fall: "5, catch a, 5". A run of plain
// stitches without catches needs no words.
func (s State) runWords(r run) string {
	words := strings.Trim(s.phrase(r).Bracketed(), "()")
	if r.told.Word != "" {
		return strings.TrimSuffix(r.told.Word+": "+words, ": ")
	}
	return words
}

// following tells what comes after the run.
func (s State) following() []string {
	var lines []string
	for i, word := range []string{"then", "after that"} {
		step := s.step + i + 1
		if step >= s.steps() {
			return append(lines, fmt.Sprintf("%s the %s is done", word, s.word()))
		}
		r := s.runAt(s.sheet, step)
		text := word
		switch {
		case r.number == 1 && r.block.Number > 0 && r.repeat == 1:
			text += fmt.Sprintf(", block %d:", r.block.Number)
		case r.number == 1:
			text += fmt.Sprintf(", repeat %d:", r.repeat)
		}
		lines = append(lines, text+" "+s.phrase(r).Text())
	}
	return lines
}

// wholeRow is the row for a glance, as the repeat of the run goes, the run on the screen standing
// out.
func (s State) wholeRow(p *pad, r run) {
	glances := s.sheet.Glances()
	g := glances[0]
	for _, other := range glances[1:] {
		if other.Block == r.block.Number && slices.Contains(other.Repeats, r.repeat) {
			g = other
		}
	}
	p.glance(g, func(phrase session.Phrase) bool { return phrase.Block == r.block.Number && phrase.Run == r.number })
}

// glance adds a row for a glance, quietly but for the runs that stand out.
func (p *pad) glance(g session.Glance, stands func(session.Phrase) bool) {
	pieces := paint.Spans(strings.Fields(g.Head())...)
	for i, phrase := range g.Phrases {
		text := phrase.Text()
		switch {
		case i == len(g.Phrases)-1:
		case g.Phrases[i+1].Begins:
			text += ";"
		default:
			text += ","
		}
		style := p.look.Paint.Quiet
		if stands(phrase) {
			style = p.look.Paint.Strong
		}
		pieces = append(pieces, paint.Span{Text: text, Style: style})
	}
	p.add(paint.Wrap("", fitting(pieces, p.look.Width), p.look.Width)...)
}

// fitting breaks pieces that are wider than a line between words.
func fitting(pieces []paint.Span, width int) []paint.Span {
	var fit []paint.Span
	for _, piece := range pieces {
		if paint.Width(piece.Text) <= width {
			fit = append(fit, piece)
			continue
		}
		for _, word := range strings.Fields(piece.Text) {
			fit = append(fit, paint.Span{Text: cut(word, width), Style: piece.Style})
		}
	}
	return fit
}
