package follow

import (
	"fmt"
	"io"

	"strandwise/cmd/render"
)

// rowView shows the row to work.
func (s State) rowView(p *pad) {
	o := render.SheetOptions{Alike: s.Rows() == 0} // once in a sitting
	p.page(func(w io.Writer) error { return render.Sheet(w, s.sheet, p.look, o) })
}

// lookedAt shows a finished row as it was made, and what the log has.
func (s State) lookedAt(p *pad) {
	done := s.piece.State.DoneRow(s.row)
	p.strong("looking back, logged %s", done.At.Format("Monday, 2 January, 15:04"))
	p.quiet("%s", s.rowLine(done.Seq))
	p.page(func(w io.Writer) error { return render.Sheet(w, s.sheet, p.look, render.SheetOptions{}) })
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
