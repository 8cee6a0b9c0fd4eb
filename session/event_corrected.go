package session

import (
	"fmt"
	"slices"
)

// RowCorrected says that a finished row was caught otherwise than its log says: seen, as it
// mostly is, a row or two later. It holds until that row is ripped back.
type RowCorrected struct {
	Row     int     // from 1, finished
	Changes Changes // how the catches made differ from those shown; nothing where all were made as shown
}

func (e *RowCorrected) validate(s *State) error {
	switch {
	case e.Row < 1:
		return checkRange(s.rowWord(), e.Row, 1)
	case s.Row == 0:
		return refuse("no %s is finished yet, so there is no %[1]s %d to correct", s.rowWord(), e.Row).instead(toFindOut)
	case e.Row > s.Row:
		return refuse("%s %d is not finished yet; the last that is, is %[1]s %[3]d", s.rowWord(), e.Row, s.Row).instead(toFindOut)
	case !e.Changes.fits(s.DoneRow(e.Row).Shown):
		return &FieldError{"correction", "changes of catches that were not shown, or two on one stitch", "changes of the catches shown"}
	}
	return nil
}

func (e *RowCorrected) apply(s *State, _ []Entry) {
	s.DoneRows = slices.Clone(s.DoneRows)
	done, changes := *s.DoneRows[e.Row-1], e.Changes
	done.Changes, done.Used = &changes, changes.applied(done.Shown)
	s.DoneRows[e.Row-1] = &done
}

func (e *RowCorrected) words(t historyWords) string {
	line := fmt.Sprintf("%s %d corrected", t.row(), e.Row)
	if fates := t.fates(e.Row, t.met.DoneRow(e.Row).Shown, e.Changes); fates != "" {
		return line + ": " + fates
	}
	return line + ": all catches made as shown"
}
