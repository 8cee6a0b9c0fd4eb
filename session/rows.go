package session

import (
	"time"

	"strandwise/floats"
)

// DoneRow is a finished row.
type DoneRow struct {
	Row         int // from 1
	Seq         uint64
	At          time.Time // when it was logged, for display and pace only
	Shown, Used []Mark    // catches shown and made, in order
	Changes     *Changes  // how the two differ, as it was told; nil where it was not told, or they do not
	Unwitnessed bool
	Grip        int           // index into State.Grips of how it was worked
	Method      floats.Method // how it was caught: that of the grip, unless it was begun with another
}

// DoneRow gives a finished row, from 1 to State.Row; another number panics.
func (s *State) DoneRow(row int) DoneRow { return s.rows[row-1] }

// DoneRows gives all finished rows as they are in the fabric; the first is row 1.
func (s *State) DoneRows() []DoneRow { return s.rows }
