package follow

import (
	"fmt"
	"strings"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/session"
)

// rowView shows the row to work.
func (s State) rowView(p *pad) {
	o := s.rowOptions(p)
	if s.Rows() == 0 { // once in a sitting
		o.Alike = document.Alike(p.look, s.sheet.Worked())
	}
	p.doc(answer.NewRow(s.sheet, o).Document())
}

// rowOptions lay a row out to the room.
func (s State) rowOptions(p *pad) answer.RowOptions {
	o := answer.RowOptions{Large: p.room.large, StripFirst: p.room.first, Strip: func(strip document.Strip) document.Strip { return s.strip(p, strip) }}
	if p.room.folded {
		o.Motions = foldedMotions
	}
	return o
}

// foldedMotions names the motions of a row.
func foldedMotions(sheet *session.Sheet) []document.Block {
	var blocks []document.Block
	for i := range sheet.Motions {
		m := &sheet.Motions[i]
		text := answer.MotionTitle(sheet, m)
		if len(m.Letters) > 0 {
			text = strings.Join(m.Letters, ", ") + ": " + text
		}
		blocks = append(blocks, document.Line{Text: document.Words(text + "; m shows how"), Tone: document.Quiet})
	}
	return blocks
}

// lookedAt shows a finished row as it was made, and what the log has.
func (s State) lookedAt(p *pad) {
	done := s.piece.State.DoneRow(s.row)
	p.strong("looking back, logged %s", done.At.Format("Monday, 2 January, 15:04"))
	p.quiet("%s", s.rowLine(done.Seq))
	p.doc(answer.NewRow(s.sheet, s.rowOptions(p)).Document())
}

// tellMotions adds the motions of the row, in full also where they are known.
func (s State) tellMotions(p *pad, full bool) {
	var d document.Document
	if p.room.folded {
		p.doc(document.Document{Yarns: s.sheet.Yarns, Blocks: foldedMotions(s.sheet)})
		return
	}
	for i := range s.sheet.Motions {
		d.Blocks = append(d.Blocks, answer.MotionBlocks(s.sheet, &s.sheet.Motions[i], full)...)
	}
	p.doc(d)
}

// rowLine is the history's line for an event of the log.
func (s State) rowLine(seq uint64) string {
	st := s.piece.State
	for _, e := range st.Log() {
		if e.Seq == seq {
			return s.piece.Words(e)
		}
	}
	panic(fmt.Sprintf("follow: a finished row stands at event %d, which the log does not have", seq))
}

// end shows that no row is left to work.
func (s State) end(p *pad) {
	p.strong("%s: %s", s.piece.State.Setup.Name, s.endWords())
	p.quiet("%s looks back, %s undoes", s.named("left"), s.named("u"))
}
