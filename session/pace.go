package session

import (
	"encoding/json"
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

// Seconds is a time that programs are told in seconds.
type Seconds time.Duration

// MarshalJSON is the number of seconds.
func (s Seconds) MarshalJSON() ([]byte, error) { return json.Marshal(time.Duration(s).Seconds()) }

// Sitting is a stretch of knitting without a break.
type Sitting struct {
	From      time.Time `json:"from"` // when its first and its last row were finished
	To        time.Time `json:"to"`
	First     int       `json:"first_row"`    // row finished first
	Last      int       `json:"last_row"`     // row finished last, lower than First when it was ripped back
	Rows      int       `json:"rows"`         // how many were finished, rows worked twice counted twice
	Stitches  int       `json:"stitches"`     // in those rows
	Time      Seconds   `json:"time_s"`       // of all its rows; the first is taken at the usual pace
	PerStitch Seconds   `json:"per_stitch_s"` // of its measured rows; 0 without one
}

// Pace is how long a piece took so far and will take; per_stitch and to_come are 0 when no pace is known.
type Pace struct {
	PerStitch Seconds    `json:"per_stitch_s"` // the median over the measured rows
	Measured  int        `json:"-"`            // rows with a time of their own
	SoFar     Seconds    `json:"so_far_s"`
	ToCome    Seconds    `json:"to_come_s"` // the rows left at the usual pace
	Likely    [2]Seconds `json:"likely_s"`  // from and to: between them it will lie nine times of ten; zeros when too few rows were measured
	Sittings  []Sitting  `json:"sittings"`
	Rows      []RowTime  `json:"rows"` // in the order they were finished
}

// RowTime is what a row took.
type RowTime struct {
	Row      int     `json:"row"` // one that was ripped back and worked again comes twice
	Stitches int     `json:"stitches"`
	Measured bool    `json:"measured"` // else it began a sitting and is taken at the usual pace
	Time     Seconds `json:"time_s"`

	at time.Time // when it was logged
}

// Pace works out the times of the piece, as State.Pace does.
func (p *Piece) Pace() Pace { return p.State.Pace(p.stitchesIn) }

// Pace works out the times of the piece, in time n log n in the length of the log. Stitches gives how many
// stitches a row of the piece has.
func (s *State) Pace(stitches func(row int) int) Pace {
	rows := s.timedRows(stitches)
	usual := perStitch(rows)
	for i, r := range rows {
		rows[i].Measured = r.Measured && r.Time <= breakFactor*usual*Seconds(r.Stitches)
	}
	p := Pace{PerStitch: perStitch(rows)}
	for _, r := range rows {
		p.add(r)
	}
	left := s.left(stitches)
	for _, stitches := range left {
		p.ToCome += p.PerStitch * Seconds(stitches)
	}
	p.Likely = p.likely(left)
	rows = p.Rows
	for i := range p.Sittings {
		sitting := &p.Sittings[i]
		sitting.PerStitch = meanPerStitch(rows[:sitting.Rows])
		rows = rows[sitting.Rows:]
	}
	return p
}

// timedRows lists the witnessed rows as they were logged, each with the gap that may be its time.
func (s *State) timedRows(stitches func(row int) int) []RowTime {
	var rows []RowTime
	before := time.Time{} // zero when the row before tells nothing
	for _, e := range s.Log {
		row, is := e.Event.(*RowKnit)
		if !is || e.Canceled {
			continue
		}
		if row.Unwitnessed {
			before = time.Time{}
			continue
		}
		gap := e.At.Sub(before)
		rows = append(rows, RowTime{row.Row, stitches(row.Row), !before.IsZero() && gap > 0 && gap <= longestGap, Seconds(gap), e.At})
		before = e.At
	}
	return rows
}

// perStitch is the median time of a stitch over the measured rows; 0 when there are none.
func perStitch(rows []RowTime) Seconds {
	var times []Seconds
	for _, r := range rows {
		if r.Stitches > 0 && r.Measured {
			times = append(times, r.Time/Seconds(r.Stitches))
		}
	}
	if len(times) == 0 {
		return 0
	}
	slices.Sort(times)
	return (times[(len(times)-1)/2] + times[len(times)/2]) / 2
}

func (p *Pace) add(r RowTime) {
	if r.Measured {
		p.Measured++
	} else {
		r.Time = p.PerStitch * Seconds(r.Stitches)
		p.Sittings = append(p.Sittings, Sitting{From: r.at, First: r.Row})
	}
	p.Rows = append(p.Rows, r)
	sitting := &p.Sittings[len(p.Sittings)-1]
	sitting.To, sitting.Last = r.at, r.Row
	sitting.Rows++
	sitting.Stitches += r.Stitches
	sitting.Time += r.Time
	p.SoFar += r.Time
}
