package session

import (
	"slices"
	"time"
)

// How time is counted. The log tells when a row was finished and never when it
// was begun, so a row's time is the gap to the row logged before it. A gap is a break, and
// the next row begins another sitting, when it is longer than 30 minutes or than
// five times what this piece's own rows of that many stitches usually take (their
// median by the stitch): both are our choices. A clock set back is a break as well.
// Rows logged afterwards without having been witnessed tell nothing of time: the
// gaps before and after them count for nothing. Rows that were ripped back did take
// their time and count; rows whose logging was undone do not.

const (
	longestGap  = 30 * time.Minute
	breakFactor = 5
)

// Sitting is a stretch of knitting without a break.
type Sitting struct {
	From     time.Time     `json:"from"` // when its first and its last row were finished
	To       time.Time     `json:"to"`
	First    int           `json:"first_row"` // row finished first
	Last     int           `json:"last_row"`  // row finished last, lower than First when it was ripped back
	Rows     int           `json:"rows"`      // how many were finished, rows worked twice counted twice
	Stitches int           `json:"stitches"`  // in those rows
	Time     time.Duration `json:"-"`         // of all its rows; the first is taken at the usual pace
}

// Pace is how long a piece took so far and will take.
type Pace struct {
	PerStitch time.Duration    // the median over the measured rows; 0 when none was measured
	Measured  int              // rows with a time of their own
	SoFar     time.Duration    // the sum of the sittings
	ToCome    time.Duration    // the rows left at the usual pace; 0 when there is no pace
	Likely    [2]time.Duration // between which they will lie nine times of ten; zeros when too little is known
	Sittings  []Sitting        // in order
	Rows      []RowTime        // of all sittings, in the order they were finished
}

// Pace works out the times of the piece, as State.Pace does.
func (p *Piece) Pace() Pace { return p.State.Pace(p.stitchesIn) }

// Pace works out the times of the piece. Stitches gives how many stitches a row
// has, for every row from 1 to the last of the piece. It takes time n log n in the
// length of the log.
func (s *State) Pace(stitches func(row int) int) Pace {
	rows := s.timedRows(stitches)
	usual := perStitch(rows, func(r timedRow) bool { return r.gap > 0 && r.gap <= longestGap })
	for i := range rows {
		rows[i].setStart(usual)
	}
	p := Pace{PerStitch: perStitch(rows, func(r timedRow) bool { return !r.start })}
	for _, r := range rows {
		p.add(r)
	}
	left := s.left(stitches)
	for _, stitches := range left {
		p.ToCome += p.PerStitch * time.Duration(stitches)
	}
	p.Likely = p.likely(left)
	return p
}

// timedRow is a witnessed row with its gap.
type timedRow struct {
	row, stitches int
	at            time.Time
	gap           time.Duration // to the row logged before; 0 when that one tells nothing
	start         bool          // begins a sitting
}

// timedRows lists the witnessed rows in the order they were logged.
func (s *State) timedRows(stitches func(row int) int) []timedRow {
	var rows []timedRow
	before := time.Time{} // zero when the row before tells nothing
	for _, r := range s.entries {
		row, is := r.Event.(*RowKnit)
		if !is || r.Canceled {
			continue
		}
		if row.Unwitnessed {
			before = time.Time{}
			continue
		}
		t := timedRow{row: row.Row, stitches: stitches(row.Row), at: r.At}
		if !before.IsZero() {
			t.gap = max(0, r.At.Sub(before))
		}
		rows, before = append(rows, t), r.At
	}
	return rows
}

// setStart decides whether the row begins a sitting, given the usual time of a
// stitch.
func (r *timedRow) setStart(usual time.Duration) {
	r.start = r.gap <= 0 || r.gap > longestGap || r.gap > breakFactor*usual*time.Duration(r.stitches)
}

// perStitch is the median time of a stitch over the chosen rows, the mean of the
// two middle ones when they are even in number; 0 when there are none.
func perStitch(rows []timedRow, chosen func(timedRow) bool) time.Duration {
	var times []time.Duration
	for _, r := range rows {
		if r.stitches > 0 && chosen(r) {
			times = append(times, r.gap/time.Duration(r.stitches))
		}
	}
	if len(times) == 0 {
		return 0
	}
	slices.Sort(times)
	return (times[(len(times)-1)/2] + times[len(times)/2]) / 2
}

// add counts a row to the sitting it belongs to.
func (p *Pace) add(r timedRow) {
	took := r.gap
	if r.start {
		took = p.PerStitch * time.Duration(r.stitches)
		p.Sittings = append(p.Sittings, Sitting{From: r.at, First: r.row})
	} else {
		p.Measured++
	}
	p.Rows = append(p.Rows, RowTime{r.row, r.stitches, took, !r.start})
	sitting := &p.Sittings[len(p.Sittings)-1]
	sitting.To, sitting.Last = r.at, r.row
	sitting.Rows++
	sitting.Stitches += r.stitches
	sitting.Time += took
	p.SoFar += took
}
