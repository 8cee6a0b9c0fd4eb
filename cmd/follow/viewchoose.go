package follow

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/paint"
	"strandwise/floats"
	"strandwise/session"
)

// choices shows the row, lists its catches, the chosen one in the middle of those that fit, with what
// became of each, and last tells the row. Aloud the chosen one is all.
func (s State) choices(look paint.Look) []document.Block {
	families, at, row := s.families(), s.pick.at, answer.GlanceBlocks(s.sheet, false)[:1]
	if look.Plain {
		row = nil
	}
	if len(families) == 0 {
		return append([]document.Block{line(document.Usual, "%s", s.noCatch())}, row...)
	}
	scope := line(document.Strong, "%s", s.scope(families[at]))
	if look.Plain {
		return []document.Block{line(document.Usual, "catch %d of %d: %s", at+1, len(families), s.familyWords(families[at])), scope}
	}
	blocks := []document.Block{line(document.Quiet, "which catch was made otherwise?"), s.chosenStrip(families[at])}
	around := 4
	if look.Width < narrow {
		around = 2
	}
	from := max(0, min(at-around, len(families)-2*around-1))
	to := min(len(families), from+2*around+1)
	if from > 0 {
		blocks = append(blocks, line(document.Quiet, "  (%d before)", from))
	}
	for i := from; i < to; i++ {
		choice := document.Line{Label: "  ", Text: document.Words(s.familyWords(families[i]))}
		if i == at {
			choice.Label, choice.Tone = look.Marks.Chose+" ", document.Strong
		}
		blocks = append(blocks, choice)
	}
	if to < len(families) {
		blocks = append(blocks, line(document.Quiet, "  (%d after)", len(families)-to))
	}
	return append(append(blocks, scope), row...)
}

// narrow is a screen too narrow for many lines: our choice.
const narrow = 60

// chosenStrip draws the row, or the piece of it with the chosen catch, as the catches are made now. The
// chosen one is pointed at, a missed one where it was planned.
func (s State) chosenStrip(f family) document.Block {
	strip := s.stripOf(s.catches, func(floats.Place) bool { return true })
	for _, i := range f.members {
		c := s.catches[i]
		if !s.meant(c) {
			continue
		}
		m := c.at
		if c.missed() {
			m = c.plan
		}
		at := s.column(m)
		strip.Columns[at].Chosen, strip.Only = true, at+1
	}
	return strip
}

// stripOf is the strip of the row with catches as they are made in the repeats shown.
func (s State) stripOf(catches []catch, shown func(floats.Place) bool) document.Strip {
	strip := answer.StripOf(s.sheet)
	for i := range strip.Columns {
		strip.Columns[i].Signs = nil
	}
	for _, c := range catches {
		if c.missed() || !shown(s.sheet.PlaceOf(c.at.Stitch)) {
			continue
		}
		here := &strip.Columns[s.column(c.at)]
		if sign := answer.Sign(s.sheet.Yarns, s.letterOf(c)); !slices.Contains(here.Signs, sign) {
			here.Signs = append(here.Signs, sign)
		}
	}
	return strip
}

// column is where the chart has the stitch of a mark, from 0.
func (s State) column(m session.Mark) int {
	return s.sheet.InOrder()[s.sheet.InPattern(m.Stitch)].Column
}

// name is a catch as it is planned: "catch a (oat, stitch 9)".
func (s State) name(f family) string {
	return fmt.Sprintf("catch %s (%s, %s)", s.letterOf(s.catches[f.members[0]]), s.sheet.Yarns[f.yarn].Name,
		session.StitchName(s.sheet.PatternPlace(f.stitch-1)))
}

func (s State) familyWords(f family) string {
	var members []catch
	for _, i := range f.members {
		members = append(members, s.catches[i])
	}
	fates := s.piece.Fates(s.row, told(members))
	switch {
	case f.extra:
		return strings.Join(fates, "; ")
	case len(fates) == 0:
		return s.name(f) + ", as planned" + f.partly()
	}
	for i := range fates { // the name stands in front once
		fates[i] = strings.TrimPrefix(fates[i], "catch "+s.letterOf(members[0])+" ")
	}
	return s.name(f) + ": " + strings.Join(fates, "; ")
}

func (f family) partly() string {
	switch has := f.repeats; {
	case len(has) == f.block.Repeats:
		return ""
	case len(has) == 1:
		return fmt.Sprintf(" in repeat %d", has[0])
	default:
		return " in repeats " + session.Listed(session.Ranges(slices.Sorted(slices.Values(has))), "and")
	}
}

func (s State) scope(f family) string {
	switch all := f.block.Repeats; {
	case all == 1:
		return fmt.Sprintf("change it in this %s", s.Word())
	case s.pick.repeat != 0:
		return fmt.Sprintf("change it in repeat %d only", s.pick.repeat)
	case len(f.members) == all:
		return "change it in every repeat"
	}
	return "change it" + f.partly()
}
