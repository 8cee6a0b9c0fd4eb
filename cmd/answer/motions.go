package answer

import (
	"fmt"
	"slices"
	"strings"

	d "strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// Motions is what motions answers, schema 1: those of the hands, in order. Crossings are those a motion leaves in
// work in the round, with sign: a change of yarn from under is +1. Two make a turn.
type Motions struct {
	hold.Hands `json:"-"`
	All        bool          `json:"-"` // every hold, carry, side, method and place
	Motions    []hold.Motion `json:"motions"`
}

// Document is the guide.
func (m *Motions) Document() d.Document {
	return d.Document{Title: "motions", Blocks: m.prose().blocks}
}

// Scene is the drawings of the guide below each other.
func (m *Motions) Scene() *draw.Scene { return draw.Stack("motions", m.prose().scenes) }

func (m *Motions) prose() *motionsProse {
	p := &motionsProse{m: m}
	if p.m.All {
		p.all()
	} else {
		p.hold(p.m.Hands)
		for i := range p.m.Motions {
			p.alike(i)
		}
	}
	p.general()
	return p
}

type motionsProse struct {
	prose
	m      *Motions
	scenes []*draw.Scene
}

func (p *motionsProse) all() {
	for _, h := range hold.Holds() {
		for _, c := range hold.Carries(h) {
			p.hold(hold.Hands{Hold: h, Carry: c, Mirror: p.m.Mirror})
			for i := range p.m.Motions {
				if m := &p.m.Motions[i]; m.Hold == h && m.Carry == c {
					p.motion(m, caught(m))
				}
			}
		}
	}
}

func (p *motionsProse) hold(h hold.Hands) {
	p.heading(d.Named(h.Hold.String(), fmt.Sprintf(", %s carry", h.Carry)))
	p.item("%s", d.Sentence(h.Hold.Describe(p.m.Mirror)))
	if p.m.Mirror {
		p.item("%s", hold.MirrorHolds)
	}
	if h.Carry == hold.Rotating {
		p.item("%s", hold.RotatingSide)
	} else {
		places := mapped(h.Places(), func(place hold.Place) string { return place.Phrase(p.m.Mirror) })
		p.item("Places: %s.", strings.Join(places, "; "))
		p.item("%s", dominanceWords(h))
	}
	advice := hold.Recommend(h.Hold, h.Carry)
	p.item("Recommended: the %s. %s", advice.Method, advice.Reason)
}

func dominanceWords(h hold.Hands) string {
	d := h.Dominant()
	if d.Told {
		return fmt.Sprintf("From below, and so dominant, its stitches standing out: %s, as you told.", d.Place.Phrase(h.Mirror))
	}
	return strings.TrimSpace(fmt.Sprintf("Usually from below, and so dominant, its stitches standing out: %s (%s). %s", d.Place.Phrase(h.Mirror), d.Sure, d.Advice))
}

// alike writes a motion once for both places where it is the same in both.
func (p *motionsProse) alike(i int) {
	m := &p.m.Motions[i]
	same := func(o hold.Motion) bool {
		return o.Method == m.Method && o.Side == m.Side && o.Attested == m.Attested && o.Note == m.Note && slices.Equal(o.Steps, m.Steps)
	}
	switch {
	case slices.ContainsFunc(p.m.Motions[:i], same):
	case slices.ContainsFunc(p.m.Motions[i+1:], same):
		p.motion(m, ", catching either yarn")
	default:
		p.motion(m, caught(m))
	}
}

func caught(m *hold.Motion) string {
	if m.Carried == hold.SameSide {
		return ""
	}
	return ", catching " + m.Carried.Strand()
}

func (p *motionsProse) motion(m *hold.Motion, what string) {
	title := fmt.Sprintf("%s on the %s%s (%s):", m.Method, m.Side, what, m.Attested)
	p.add(d.Heading{Text: d.Words(d.Sentence(title)), Sub: true})
	name := strings.TrimSuffix(d.Sentence(strings.TrimSuffix(title, ":")), ".")
	p.steps(m, hold.Taught, name)
	if m.Alternate != nil {
		p.item("To take a turn out again, the other way round:")
		p.steps(m, hold.Other, name+", the other way round")
	}
	p.aside("In short: %s.", m.Short)
	p.aside("To check: %s", m.WrongSide)
	for _, text := range []string{m.Note, m.Caution} {
		if text != "" {
			p.item("%s", d.Sentence(text))
		}
	}
}

func (p *motionsProse) steps(m *hold.Motion, w hold.Way, name string) {
	p.add(d.Items{Numbered: true, Indent: 2, Items: items(mapped(m.In(w).Steps, d.Sentence)).Items})
	if p.m.All {
		name = m.Hold.String() + ", " + name
	}
	p.add(d.Picture{Drawing: draw.Motion(*m, w, name, true)})
	p.scenes = append(p.scenes, draw.Motion(*m, w, name, false))
}

func (p *motionsProse) general() {
	p.heading(d.Words("For every catch"))
	p.eachItem([]string{
		hold.Rule, hold.Closing, hold.Slack, hold.LoopInFront, hold.Flecks, hold.KeepDominant, hold.CheckDominant,
		hold.ThirdYarn, hold.Contrast, hold.FarOver, hold.EasiestToLearn,
	})
	if slices.ContainsFunc(p.m.Motions, func(m hold.Motion) bool { return m.Attested == hold.Derived }) {
		p.item("To practice: strandwise cast-on practice %s@3 --limit 5.", hold.PracticeChart)
	}
}

// eachMotion is the motions of a row, those that are known in full where that is asked for.
func eachMotion(s *session.Sheet, full bool) []d.Block {
	var blocks []d.Block
	for i := range s.Motions {
		blocks = append(blocks, MotionBlocks(s, &s.Motions[i], full)...)
	}
	return blocks
}

// MotionBlocks is one motion of a row, in full also where it is known.
func MotionBlocks(s *session.Sheet, m *session.SheetMotion, full bool) []d.Block {
	lead := d.Words(MotionTitle(s, m))
	if letters := strings.Join(m.Letters, ", "); letters != "" {
		lead = d.Text{{Text: letters, Aloud: strings.ToUpper(letters)}, {Text: ": " + MotionTitle(s, m)}}
	}
	if m.Known && !full {
		lift := ""
		if m.Lift != "" {
			lift = "; " + m.Lift
		}
		return []d.Block{d.Line{Text: append(lead, d.Span{Text: ": " + m.In(m.Way).Short + lift}), Tone: d.Quiet}}
	}
	blocks := []d.Block{d.Line{Text: append(lead, d.Span{Text: ":"})}}
	for i, step := range m.In(m.Way).Steps {
		blocks = append(blocks, d.Line{Label: fmt.Sprintf("  %d ", i+1), Text: d.Words(step)})
	}
	notes := mapped(motionNotes(m, full), func(note string) d.Block {
		return d.Line{Label: "  ", Text: d.Words(note), Tone: d.Quiet}
	})
	return append(blocks, notes...)
}

// MotionPicture is the drawing of a motion of a row, which stands beside its words.
func MotionPicture(s *session.Sheet, m *session.SheetMotion) d.Block {
	return d.Picture{Drawing: draw.Motion(m.Motion, m.Way, MotionTitle(s, m), true)}
}

// MotionTitle names what a motion does: "weave oat, left hand".
func MotionTitle(s *session.Sheet, m *session.SheetMotion) string {
	text := m.Method.String() + " " + session.Listed(mapped(m.Yarns, func(y session.PieceYarn) string { return y.Name }), "and")
	if !m.Apart && m.Carried != hold.SameSide && m.Method != floats.Twist {
		text += ", " + m.Carried.String()
	}
	return text
}

// motionNotes tells in full also how to check the catch afterwards.
func motionNotes(m *session.SheetMotion, full bool) []string {
	var notes []string
	if m.Apart {
		notes = append(notes, "Both yarns sit in one place here, so make this catch with one yarn at a time.")
	}
	if m.Lift != "" {
		notes = append(notes, d.Sentence(m.Lift))
	}
	if m.Alternate != nil {
		notes = append(notes, "The next twist goes the other way round, so that no turn is left: "+m.In(hold.Taught+hold.Other-m.Way).Short+".")
	}
	if m.Against {
		notes = append(notes, "The stitch is worked against its side, so it is twisted and not woven.")
	}
	for _, text := range []string{m.Note, m.Caution} {
		if text != "" {
			notes = append(notes, d.Sentence(text))
		}
	}
	if full {
		notes = append(notes, "To check: "+m.WrongSide)
	}
	return notes
}
