package answer

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/chart"
	"strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/session/hold"
)

// RowOptions say what is told of a row beyond what it calls for.
type RowOptions struct {
	YarnPlaces bool                                  // where every yarn sits, as after a break
	Steps      bool                                  // every motion in full, known or not
	Why        bool                                  // why catches were moved
	Motions    func(*session.Sheet) []document.Block // how catches are told; nil is each in full until it is known
	Strip      func(document.Strip) document.Strip   // how the strip is drawn; nil is as it is
	StripFirst bool                                  // the strip stands above the row for a glance
	Large      bool                                  // the runs as large chips
	Alike      string                                // which yarns cannot be told apart by color where this is read
}

// Document is the row in words. The row for a glance stands out; all else steps back. A row without catches
// takes three lines: the glance, its place in the piece, its strip.
func (a *Row) Document() document.Document {
	s := a.sheet
	p := &prose{}
	if a.o.StripFirst {
		a.strip(p)
	}
	p.add(GlanceBlocks(s, a.o.Large)...)
	for _, words := range s.Changes {
		p.add(document.Line{Text: Catches("made otherwise: " + words), Tone: document.Quiet})
	}
	p.add(document.Line{Text: a.place(), Tone: document.Quiet})
	if s.Begun > 0 {
		p.item("%s", begunWords(s))
	}
	if s.Turned {
		direction := map[bool]string{true: "from left to right", false: "from right to left"}[s.FromLeft]
		p.add(document.Line{Text: document.Text{{Aloud: "the chart reads " + direction}}})
	}
	if len(s.Moves) > 0 || a.o.YarnPlaces {
		p.add(document.Line{Text: SeatText(s.YarnPlaces), Tone: document.Quiet})
	}
	if a.o.Alike != "" {
		p.aside("%s", a.o.Alike)
	}
	if !a.o.StripFirst {
		a.strip(p)
	}
	a.moved(p)
	if s.Shapes() {
		p.item("%s after this %s", document.Counted(s.Makes(), "stitch"), s.Word())
	}
	for _, n := range s.Notes {
		p.item("%s", n.Text)
	}
	a.motions(p)
	p.eachItem(s.Cautions)
	return document.Document{Title: fmt.Sprintf("%s, %s %d", s.Piece, s.Word(), s.Row), Yarns: s.Yarns, Blocks: p.blocks}
}

// GlanceBlocks is the whole row, repeats with other catches on lines of their own; large, its runs are large chips.
func GlanceBlocks(s *session.Sheet, large bool) []document.Block {
	return mapped(s.Glances(), func(g session.Glance) document.Block {
		row := GlanceRow(g)
		row.Large = large
		if g.Number > 0 {
			row.Number = fmt.Sprint(g.Number)
			row.Aloud = fmt.Sprintf("%s %d of %d of %s", s.Word(), s.Row, s.Of, s.Piece)
			for _, more := range []string{g.Side, g.Often} {
				if more != "" {
					row.Aloud += "; " + more
				}
			}
		}
		return row
	})
}

// GlanceRow is some repeats of a row for a glance, aloud under how often they are worked.
func GlanceRow(g session.Glance) document.Row {
	row := document.Row{Number: g.Often, Head: g.Head(), Aloud: g.Often}
	for k, p := range g.Phrases {
		var text document.Text
		if p.Often != "" {
			text = document.Text{{Text: p.Often + ": ", Whole: true}}
		}
		text = append(text, document.Span{Text: p.Lead, Yarn: p.Yarn + 1, Whole: true})
		for _, part := range p.Inside {
			text = append(append(text, document.Span{Text: " "}), inBrackets(part)...)
		}
		if k < len(g.Phrases)-1 {
			after := ","
			if g.Phrases[k+1].Block > 0 {
				after = ";"
			}
			text = append(text, document.Span{Text: after})
		}
		row.Runs = append(row.Runs, document.Run{Text: text, Aloud: heard(p)})
	}
	return row
}

// inBrackets has a catch stand out, on the color of the yarn that is caught.
func inBrackets(part session.InPhrase) document.Text {
	if part.Yarn == chart.NoYarn {
		return document.Text{{Text: part.Text, Whole: true}}
	}
	caught := strings.Trim(part.Text, "(,)")
	before, after, _ := strings.Cut(part.Text, caught)
	return slices.DeleteFunc(document.Text{{Text: before}, {Text: caught, Tone: document.Strong, Yarn: part.Yarn + 1, Whole: true}, {Text: after}}, func(s document.Span) bool { return s.Text == "" })
}

// heard says where a block begins, since nobody hears a semicolon.
func heard(p session.Phrase) string {
	lead := fmt.Sprintf("block %d", p.Block)
	switch {
	case p.Block == 0:
		return p.Aloud
	case strings.HasPrefix(p.Often, "block"):
		lead = p.Often
	case p.Often != "":
		lead += ", " + p.Often
	}
	return lead + ": " + p.Aloud
}

// place is aloud without what was said with the row for a glance.
func (a *Row) place() document.Text {
	s := a.sheet
	text := document.Text{
		{Text: fmt.Sprintf("%s, %s %d of %d; ", s.Piece, s.Word(), s.Row, s.Of), Aloud: " "},
		{Text: partWords(s.Part), Name: true},
	}
	if s.Twin != nil {
		text = append(text, document.Span{Text: "; " + twinWords(s)})
	}
	return text
}

func partWords(p session.PartPlace) string {
	text := fmt.Sprintf("%s row %d of %d", p.Name, p.Row, p.Rows)
	if p.Times > 1 {
		text += fmt.Sprintf(", copy %d of %d", p.Copy, p.Times)
	}
	if p.Of > 1 {
		text += fmt.Sprintf(", part %d of %d", p.Number, p.Of)
	}
	return text
}

func twinWords(s *session.Sheet) string {
	switch {
	case s.Twin.PartsAt > 0:
		return fmt.Sprintf("same as %s %d up to stitch %d", s.Word(), s.Twin.Row, s.Twin.PartsAt-1)
	case !s.Twin.Caught:
		return fmt.Sprintf("same as %s %d, but for its catches", s.Word(), s.Twin.Row)
	}
	return fmt.Sprintf("same as %s %d", s.Word(), s.Twin.Row)
}

func begunWords(s *session.Sheet) string {
	text := fmt.Sprintf("%d of %s worked", s.Begun, document.Counted(s.Stitches(), "stitch"))
	if s.Repeats() > 1 && s.Begun < s.Stitches() {
		text += "; next is " + s.PlaceWords(s.Begun+1)
	}
	return text
}

// strip has the row below where there is something to compare.
func (a *Row) strip(p *prose) {
	s := a.sheet
	strip := StripOf(s)
	caught := slices.ContainsFunc(s.Strips.Caught, func(c []session.Catch) bool { return len(c) > 0 })
	strip.Optional = len(s.Blocks) == 1 && len(s.Blocks[0].Often.Runs) == 1 && !caught && s.Plain()
	if s.Strips.BelowFits && caught {
		strip.Below = [][]document.Column{Below(s)}
	}
	if a.o.Strip != nil {
		strip = a.o.Strip(strip)
	}
	p.add(strip)
}

// Below is the row below a row that fits it, with the letters under its catches.
func Below(s *session.Sheet) []document.Column {
	return columnsOf(s.Yarns, s.Strips.Below, s.Strips.CaughtBelow)
}

// StripOf is the strip of a row with the letters under its catches.
func StripOf(s *session.Sheet) document.Strip {
	columns, blocks := columnsOf(s.Yarns, s.Strips.Row, s.Strips.Caught), len(s.Blocks) > 1
	for i, st := range s.InOrder() {
		at, column := s.PatternPlace(i), &columns[st.Column]
		column.Stitch, column.Shaped = at.Stitch, st.Technique != chart.Knit
		if blocks && at.Stitch == 1 {
			column.Block = at.Block
		}
	}
	return document.Strip{Number: s.Row, Columns: columns, FromLeft: s.FromLeft, Ruler: blocks}
}

func columnsOf(yarns []chart.Yarn, cells []chart.Cell, caught [][]session.Catch) []document.Column {
	columns := mapped(cells, func(c chart.Cell) document.Column { return document.Column{Cell: c} })
	for i, catches := range caught {
		columns[i].Signs = mapped(catches, func(c session.Catch) string { return Sign(yarns, c.Letter) })
	}
	return columns
}

// Sign is what stands under the stitch of a catch: its letter, a capital where a yarn has a
// small letter for its symbol, and a plus for an extra one.
func Sign(yarns []chart.Yarn, letter string) string {
	switch {
	case letter == "":
		return "+"
	case slices.ContainsFunc(yarns, func(y chart.Yarn) bool { return y.Symbol >= 'a' && y.Symbol <= 'z' }):
		return strings.ToUpper(letter)
	}
	return letter
}

// moved explains the sign of moved catches where one stands.
func (a *Row) moved(p *prose) {
	lines := a.sheet.Reasons
	if len(lines) > 0 && !a.o.Why {
		lines = []string{fmt.Sprintf("moved to fit the %s below", a.sheet.Word())}
	}
	for _, line := range lines {
		p.add(document.Line{Label: session.MovedSign + " ", Text: Catches(line), Tone: document.Quiet})
	}
}

func (a *Row) motions(p *prose) {
	if a.o.Motions != nil {
		p.add(a.o.Motions(a.sheet)...)
		return
	}
	for i := range a.sheet.Motions {
		p.add(MotionBlocks(a.sheet, &a.sheet.Motions[i], a.o.Steps)...)
	}
}

// MotionBlocks is one motion of a row, in full also where it is known.
func MotionBlocks(s *session.Sheet, m *session.SheetMotion, full bool) []document.Block {
	lead := document.Words(MotionTitle(s, m))
	if letters := strings.Join(m.Letters, ", "); letters != "" {
		lead = document.Text{{Text: letters, Aloud: strings.ToUpper(letters)}, {Text: ": " + MotionTitle(s, m)}}
	}
	if m.Known && !full {
		lift := ""
		if m.Lift != "" {
			lift = "; " + m.Lift
		}
		return []document.Block{document.Line{Text: append(lead, document.Span{Text: ": " + m.In(m.Way).Short + lift}), Tone: document.Quiet}}
	}
	blocks := []document.Block{document.Line{Text: append(lead, document.Span{Text: ":"})}}
	for i, step := range m.In(m.Way).Steps {
		blocks = append(blocks, document.Line{Label: fmt.Sprintf("  %d ", i+1), Text: document.Words(step)})
	}
	notes := mapped(motionNotes(m, full), func(note string) document.Block {
		return document.Line{Label: "  ", Text: document.Words(note), Tone: document.Quiet}
	})
	return append(blocks, notes...)
}

// MotionPicture is the drawing of a motion of a row, which stands beside its words.
func MotionPicture(s *session.Sheet, m *session.SheetMotion) document.Block {
	return document.Picture{Drawing: draw.Motion(m.Motion, m.Way, MotionTitle(s, m), true)}
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
		notes = append(notes, document.Sentence(m.Lift))
	}
	if m.Other != nil {
		notes = append(notes, "The next twist goes the other way round, so that no turn is left: "+m.In(hold.Taught+hold.Other-m.Way).Short+".")
	}
	if m.Against {
		notes = append(notes, "The stitch is worked against its side, so it is twisted and not woven.")
	}
	for _, text := range []string{m.Note, m.Caution()} {
		if text != "" {
			notes = append(notes, document.Sentence(text))
		}
	}
	if full {
		notes = append(notes, "To check: "+m.WrongSide())
	}
	return notes
}
