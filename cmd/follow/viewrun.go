package follow

import (
	"fmt"
	"io"
	"strings"

	"strandwise/cmd/paint"
	"strandwise/cmd/render"
	"strandwise/session"
)

// runView shows the run to work, large, and what follows it.
func (s State) runView(p *pad) {
	r := s.runAt(s.sheet, s.step)
	p.quiet("%s", s.runPlace(r))
	s.card(p, r)
	if words := s.shapedIn(r); words != "" {
		p.strong("%s %s", p.look.Marks.Shape, words)
	}
	for _, line := range s.following() {
		p.say("%s", line)
	}
	p.add("")
	s.wholeRow(p, r)
	if len(s.sheet.Moves) > 0 {
		p.quiet("%s", render.SeatWords(s.sheet, s.sheet.YarnPlaces))
	}
	if words := render.Shaping(s.sheet, p.look); words != "" {
		p.quiet("%s", words)
	}
	for _, n := range s.sheet.Notes {
		p.quiet("%s", n.Text)
	}
	if len(s.sheet.Motions) > 0 {
		p.page(func(w io.Writer) error { return render.Motions(w, s.sheet, p.look, false) })
	}
}

// runPlace tells where in the piece the run stands.
func (s State) runPlace(r run) string {
	text := fmt.Sprintf("%s %d of %d", s.word(), s.row, s.piece.Rows())
	if s.sheet.Repeats > 1 {
		text += fmt.Sprintf(", repeat %d of %d", r.repeat, s.sheet.Repeats)
	}
	text += fmt.Sprintf(", run %d of %d, stitch %d", r.number, r.of, r.from)
	if r.stitches > 1 {
		text += fmt.Sprintf(" to %d", r.from+r.stitches-1)
	}
	return text + fmt.Sprintf(" of %d", s.sheet.Total)
}

// card sets the count in large figures on the yarn's color, and beside it the yarn
// and how the run goes.
func (s State) card(p *pad, r run) {
	yarn := s.sheet.Yarns[r.yarn]
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

// runWords tells how a run goes, each catch before the stitch it falls on: "5, then
// 1 catching oat, then 5". A run without catches needs no words.
func (s State) runWords(r run) string {
	if len(r.catches) == 0 {
		return ""
	}
	var parts []string
	done := 0
	plain := func(n int) {
		if n > 0 {
			parts = append(parts, fmt.Sprint(n))
		}
		done += n
	}
	for _, together := range byStitch(r.catches) {
		names := s.yarnNames(together)
		plain(together[0].InRun - 1 - done)
		if s.sheet.CatchWord() == "on" {
			parts = append(parts, "1 catching "+names)
			done++
		} else {
			parts = append(parts, "catch "+names)
		}
	}
	plain(r.stitches - done)
	return strings.Join(parts, ", then ")
}

// byStitch gathers the catches that fall on one stitch.
func byStitch(catches []session.SheetCatch) [][]session.SheetCatch {
	var all [][]session.SheetCatch
	for i, c := range catches {
		if i > 0 && c.InRun == catches[i-1].InRun {
			all[len(all)-1] = append(all[len(all)-1], c)
			continue
		}
		all = append(all, []session.SheetCatch{c})
	}
	return all
}

func (s State) yarnNames(catches []session.SheetCatch) string {
	names := make([]string, len(catches))
	for i, c := range catches {
		names[i] = s.sheet.Yarns[c.Yarn].Name
	}
	return strings.Join(names, " and ")
}

// shapedIn tells the stitches of a run that are not plain: "k2tog on 3, 6 of the run".
func (s State) shapedIn(r run) string {
	start := inRow{s.sheet}.inRepeat(r.from)
	var order []string
	at := map[string][]int{}
	for _, sh := range s.sheet.Shaping {
		if in := sh.Stitch - start + 1; in >= 1 && in <= r.stitches {
			if at[sh.Word] == nil {
				order = append(order, sh.Word)
			}
			at[sh.Word] = append(at[sh.Word], in)
		}
	}
	for i, word := range order {
		order[i] = fmt.Sprintf("%s on %s", word, listed(at[word]))
	}
	if len(order) == 0 {
		return ""
	}
	return strings.Join(order, "; ") + " of the run"
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
		if r.number == 1 {
			text += fmt.Sprintf(", repeat %d:", r.repeat)
		}
		text += fmt.Sprintf(" %d %s", r.stitches, s.sheet.Yarns[r.yarn].Name)
		if words := s.runWords(r); words != "" {
			text += ": " + words
		}
		lines = append(lines, text)
	}
	return lines
}

// wholeRow is the row for a glance, the run on the screen standing out.
func (s State) wholeRow(p *pad, r run) {
	number, texts := s.sheet.Glance()
	pieces := paint.Spans(texts...)
	for i := range pieces {
		pieces[i].Style = p.look.Paint.Quiet
		if i == r.number-1 {
			pieces[i].Style = p.look.Paint.Strong
		}
	}
	p.add(paint.Wrap(number+" ", fitting(pieces, p.look.Width-paint.Width(number)-1), p.look.Width)...)
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
