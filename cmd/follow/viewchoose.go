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

// choices shows the row with its catches, the chosen one with a sign of its own, lists
// them, the chosen one in the middle of those that fit, with what became of each, and
// last tells the row.
func (s State) choices(p *pad) {
	p.quiet("which catch was made otherwise?")
	families := s.families()
	if len(families) == 0 {
		p.say("this %s has no catch; x adds one", s.word())
	} else {
		s.chosenStrip(p, families[s.pick.at])
		s.listChoices(p, families)
		p.strong("%s", s.scope(families[s.pick.at]))
	}
	p.glance(s.sheet.Glances()[0], func(session.Phrase) bool { return false })
}

// chosenStrip draws the row, or the piece of it with the chosen catch, with letters under
// the stitches as the catches are made now, and the chosen one pointed at. A missed one that is
// chosen is pointed at where it was planned.
func (s State) chosenStrip(p *pad, f family) {
	in, at := inRow{s.sheet}, 0
	strip := answer.StripOf(s.sheet)
	strip.Signs, strip.Chosen = make([][]string, len(strip.Cells)), make([]bool, len(strip.Cells))
	column := func(m session.Mark) int { return s.sheet.Order[s.sheet.Pattern(m.Stitch)].Column }
	for _, c := range s.catches {
		if c.missed() {
			continue
		}
		sign := answer.Sign(s.sheet.Yarns, in.letter(c))
		if here := &strip.Signs[column(c.at)]; !slices.Contains(*here, sign) {
			*here = append(*here, sign)
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
		strip.Chosen[at] = true
	}
	strip.Only = at + 1
	p.doc(document.Document{Yarns: s.sheet.Yarns, Blocks: []document.Block{strip}})
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
	switch {
	case f.extra:
		return r.name(f) + s.partly(f)
	case len(fates) == 0:
		return r.name(f) + ", as planned" + s.partly(f)
	}
	return r.name(f) + ": " + strings.Join(fates, "; ")
}

// partly names the repeats of a catch that not all of them have.
func (s State) partly(f family) string {
	if len(f.members) == (inRow{s.sheet}).repeats(f) {
		return ""
	}
	return inRow{s.sheet}.where(f, s.repeatsOf(f))
}

// scope tells in which repeats the next change will be made.
func (s State) scope(f family) string {
	switch all := (inRow{s.sheet}).repeats(f); {
	case all == 1:
		return fmt.Sprintf("change it in this %s", s.word())
	case s.pick.repeat != 0:
		return fmt.Sprintf("change it in repeat %d only", s.pick.repeat)
	case len(f.members) == all:
		return "change it in every repeat"
	}
	repeats := s.repeatsOf(f)
	slices.Sort(repeats)
	return "change it" + inRow{s.sheet}.where(f, repeats)
}
