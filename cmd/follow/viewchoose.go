package follow

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/cmd/paint"
)

// choices lists the catches of the row, the chosen one in the middle of those that
// fit, with what became of each.
func (s State) choices(p *pad) {
	number, texts := s.sheet.Glance()
	pieces := paint.Pieces(texts...)
	p.add(paint.Wrap(number+" ", fitting(pieces, p.look.Width-paint.Width(number)-1), p.look.Width)...)
	p.quiet("which catch was made otherwise? counted in the repeat")
	families := s.families()
	if len(families) == 0 {
		p.say("this %s has no catch; x adds one", s.word())
		return
	}
	const around = 4
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
	p.strong("%s", s.scope(families[s.pick.at]))
}

// choice adds one catch of the list.
func (s State) choice(p *pad, f family, chosen bool) {
	sign, style := "  ", func(text string) string { return text }
	if chosen {
		sign, style = "> ", p.look.Paint.Strong
	}
	for i, line := range wrapped(s.familyWords(f), p.look.Width-len(sign)) {
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
