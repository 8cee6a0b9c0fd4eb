package follow

import (
	"fmt"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
)

// rowView shows the row to work.
func (s State) rowView(p *pad) {
	o := answer.RowOptions{}
	if s.Rows() == 0 { // once in a sitting
		o.Alike = document.Alike(p.look, s.sheet.Worked())
	}
	p.doc(answer.NewRow(s.sheet, o).Document())
}

// lookedAt shows a finished row as it was made, and what the log has.
func (s State) lookedAt(p *pad) {
	done := s.piece.State.DoneRow(s.row)
	p.strong("looking back, logged %s", done.At.Format("Monday, 2 January, 15:04"))
	p.quiet("%s", s.rowLine(done.Seq))
	p.doc(answer.NewRow(s.sheet, answer.RowOptions{}).Document())
}

// tellMotions adds the motions of the row, in full also where they are known.
func (s State) tellMotions(p *pad, full bool) {
	var d document.Document
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
