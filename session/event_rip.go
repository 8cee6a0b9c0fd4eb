package session

import (
	"fmt"
	"strings"
)

// Ripped takes out the begun part of a row and then finished rows. On a piece that
// is bound off it takes out the binding off first.
type Ripped struct {
	Rows int // finished rows taken out; 0 takes out the begun part (or the binding off) alone
}

func (e *Ripped) validate(s *State) error {
	if err := checkRange(s.rowWord()+"s to rip back", e.Rows, 0); err != nil {
		return err
	}
	if e.Rows > s.Row {
		there := fmt.Sprintf("%d are worked; give %[1]d at most", s.Row)
		switch s.Row {
		case 0:
			there = "none is worked yet; knit first"
		case 1:
			there = "1 is worked; give 1 at most"
		}
		return refuse("cannot rip back %s: %s", plural(e.Rows, s.rowWord()), there).instead(toFindOut)
	}
	if e.Rows == 0 && s.Begun == 0 && !s.BoundOff {
		which := fmt.Sprintf(", so nothing to rip out; give how many of the %d finished %ss to rip back", s.Row, s.rowWord())
		switch s.Row {
		case 0:
			which = " or finished, so nothing to rip out; knit first"
		case 1:
			which = ", so nothing to rip out; give 1 to rip back the finished " + s.rowWord()
		}
		return refuse("no %s is begun%s", s.rowWord(), which).instead(toFindOut)
	}
	return nil
}

func (e *Ripped) apply(s *State, _ []Entry) {
	s.Ripped += e.Rows
	s.Row -= e.Rows
	s.DoneRows = s.DoneRows[:s.Row:s.Row]
	s.Begun, s.OnNeedle, s.BoundOff = 0, nil, false
	s.lowerSegments()
}

func (e *Ripped) words(t historyWords) string {
	var out []string
	if t.met.BoundOff {
		out = append(out, "the binding off")
	}
	if t.met.Begun > 0 || e.Rows == 0 && !t.met.BoundOff {
		out = append(out, "the begun part")
	}
	if e.Rows > 0 {
		out = append(out, plural(e.Rows, t.row()))
	}
	return "ripped back: " + strings.Join(out, " and ")
}
