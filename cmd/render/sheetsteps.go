package render

import (
	"io"

	"strandwise/session"
)

// Motions writes the motions of a row by themselves: step by step where full is set
// or they are new, else in a few words.
func Motions(w io.Writer, s *session.Sheet, look Look, full bool) error {
	p := &sheetPage{page: page{w: w, look: look}, s: s, o: SheetOptions{Steps: full}}
	for i := range s.Motions {
		if look.Plain {
			p.plainMotion(&s.Motions[i])
		} else {
			p.motion(&s.Motions[i])
		}
	}
	return p.err
}
