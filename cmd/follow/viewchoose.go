package follow

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/cmd/paint"
	"strandwise/cmd/render"
	"strandwise/session"
)

// choices shows the row with its catches, the chosen one with a sign of its own, lists
// them, the chosen one in the middle of those that fit, with what became of each, and
// last tells the row.
func (s State) choices(p *pad) {
	p.quiet("which catch was made otherwise? counted in the repeat")
	families := s.families()
	if len(families) == 0 {
		p.say("this %s has no catch; x adds one", s.word())
	} else {
		s.chosenStrip(p, families[s.pick.at])
		s.listChoices(p, families)
		p.strong("%s", s.scope(families[s.pick.at]))
	}
	number, texts := s.sheet.Glance()
	pieces := paint.Spans(texts...)
	for i := range pieces {
		pieces[i].Style = p.look.Paint.Quiet
	}
	p.add(paint.Wrap(number+" ", fitting(pieces, p.look.Width-paint.Width(number)-1), p.look.Width)...)
}

// chosenStrip draws the row, or the piece of it with the chosen catch, with signs under
// the stitches as the catches are made now. A missed one that is chosen keeps its sign
// where it was planned.
func (s State) chosenStrip(p *pad, f family) {
	signs, at := make([]string, len(s.sheet.Strips.Row)), 0
	column := func(m session.Mark) int { return s.sheet.Order[inRow{s.sheet}.inRepeat(m.Stitch)-1].Column }
	for _, c := range s.catches {
		if !c.missed() {
			signs[column(c.at)] = p.look.Marks.Catch
		}
	}
	for _, i := range f.members {
		c := s.catches[i]
		if s.pick.repeat != 0 && s.repeatOf(c) != s.pick.repeat {
			continue
		}
		m := c.at
		if c.missed() {
			m = c.plan
		}
		at = column(m)
		signs[at] = p.look.Marks.Chose
	}
	render.WriteStrip(p.look, func(line string) { p.add(line) }, render.Strip{
		Yarns: s.sheet.Yarns, Row: s.sheet.Row, Cells: s.sheet.Strips.Row, FromLeft: s.sheet.FromLeft, Signs: signs, Only: at + 1,
	})
}

// listChoices lists the catches around the chosen one.
func (s State) listChoices(p *pad, families []family) {
	around := 4
	if p.look.Width < narrow {
		around = 2
	}
	from := max(0, min(s.pick.at-around, len(families)-2*around-1))
	to := min(len(families), from+2*around+1)
	if from > 0 {
		p.quiet("  (%d before)", from)
	}
	for i := from; i < to; i++ {
		s.choice(p, families[i], i == s.pick.at)
	}
	if to < len(families) {
		p.quiet("  (%d after)", len(families)-to)
	}
}

// narrow is a screen too narrow for many lines: our choice.
const narrow = 60

// choice adds one catch of the list.
func (s State) choice(p *pad, f family, chosen bool) {
	sign, style := "  ", func(text string) string { return text }
	if chosen {
		sign, style = p.look.Marks.Chose+" ", p.look.Paint.Strong
	}
	for i, line := range wrapped(s.familyWords(f), p.look.Width-paint.Width(sign)) {
		if i > 0 {
			sign = "  "
		}
		p.add(sign + style(line))
	}
}

// familyWords tells a catch and what became of it.
func (s State) familyWords(f family) string {
	r := inRow{s.sheet}
	fates := r.fates(f, s.catches)
	if len(fates) == 0 {
		return r.name(f) + ", as planned" + s.partly(f)
	}
	return r.name(f) + " " + strings.Join(fates, "; ")
}

// partly names the repeats of a catch that not all of them have.
func (s State) partly(f family) string {
	if len(f.members) == s.sheet.Repeats {
		return ""
	}
	return inRow{s.sheet}.where(s.repeatsOf(f))
}

// scope tells in which repeats the next change will be made.
func (s State) scope(f family) string {
	switch {
	case s.sheet.Repeats == 1:
		return fmt.Sprintf("change it in this %s", s.word())
	case s.pick.repeat != 0:
		return fmt.Sprintf("change it in repeat %d only", s.pick.repeat)
	case len(f.members) == s.sheet.Repeats:
		return "change it in every repeat"
	}
	repeats := s.repeatsOf(f)
	slices.Sort(repeats)
	return "change it in repeat " + listed(repeats)
}
