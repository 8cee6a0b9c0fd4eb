package render

import (
	"fmt"

	"strandwise/session"
	"strandwise/session/hold"
)

// motion writes the motion of some catches: step by step while it is new, in a few
// words once it is known.
func (p *sheetPage) motion(m *session.SheetMotion) {
	if m.Known && !p.o.Steps {
		p.quiet("%s: %s%s", catching(p.s, m), shortFor(m), lifting(m))
		return
	}
	p.say("%s:", catching(p.s, m))
	for i, step := range stepsFor(m) {
		p.text(fmt.Sprintf("  %d ", i+1), step, nil)
	}
	for _, more := range motionNotes(m, p.o.Steps) {
		p.text("  ", more, p.look.Paint.Quiet)
	}
}

// catching names what the motion does: "weave oat, left hand".
func catching(s *session.Sheet, m *session.SheetMotion) string {
	names := make([]string, len(m.Yarns))
	for i, y := range m.Yarns {
		names[i] = s.Yarns[y].Name
	}
	text := m.Method.String() + " " + listed(names)
	if !m.Apart && m.Carried != hold.SameSide && m.Method != hold.Twist {
		text += ", " + m.Carried.String()
	}
	return text
}

func stepsFor(m *session.SheetMotion) []string { return m.StepsFor(m.Way) }

func shortFor(m *session.SheetMotion) string { return m.ShortFor(m.Way) }

// lifting tells which of two strands in one place to lift, after what stands before it.
func lifting(m *session.SheetMotion) string {
	if m.Lift == "" {
		return ""
	}
	return "; " + m.Lift
}

// motionNotes is what else there is to know about a motion that is new; in full also how
// to check the catch afterwards.
func motionNotes(m *session.SheetMotion, full bool) []string {
	var notes []string
	if m.Apart {
		notes = append(notes, "Both yarns sit in one place here, so make this catch with one yarn at a time.")
	}
	if m.Lift != "" {
		notes = append(notes, sentence(m.Lift))
	}
	if len(m.Alternate) > 0 {
		notes = append(notes, "The next twist goes the other way round, so that no turn is left: "+m.ShortFor(hold.Taught+hold.Other-m.Way)+".")
	}
	if m.Against {
		notes = append(notes, "The stitch is worked against its side, so it is twisted and not woven.")
	}
	for _, text := range []string{m.Note, m.Caution()} {
		if text != "" {
			notes = append(notes, sentence(text))
		}
	}
	if full {
		notes = append(notes, "To check: "+m.WrongSide())
	}
	return notes
}
