package session

import (
	"encoding/json"
	"math"
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

// stitchesIn is how many stitches a row has; none for one ripped back that is no longer in the piece.
func (p *Piece) stitchesIn(row int) int {
	if row > p.Rows() {
		return 0
	}
	return p.Row(row).Stitches()
}

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

// How long the rest will take is foretold from the rows measured so far, as they were, with
// whatever came between. Let their times by the stitch have the mean m and the standard deviation
// s, n of them; let the rows to come have c1, c2 ... stitches, C together. They take C m, and what
// they will take differs from that with the variance s^2 (c1^2 + c2^2 + ... + C^2/n): the rows to
// come scatter by themselves, and the mean is known from n rows only. So nine times of ten it lies
// within
//
//	C m +- t s sqrt(c1^2 + c2^2 + ... + C^2/n)
//
// where t is the 95 % point of Student's distribution with n-1 degrees of freedom. For k rows of as
// many stitches it is the usual prediction interval for the mean of k further observations,
// m +- t s sqrt(1/k + 1/n) (Hahn and Meeker, Statistical Intervals, 1991, chapter 4; from memory).
// It takes rows for independent of each other and their times for about normal. Rows of one
// evening are alike, so the truth may lie further out than a range from few sittings says.

// leastMeasured is how many rows must have been measured for a range to be told.
const leastMeasured = 4

// meanPerStitch is the time of a stitch over the measured rows; 0 where there are none.
func meanPerStitch(rows []RowTime) Seconds {
	took, stitches := Seconds(0), 0
	for _, r := range rows {
		if r.Measured {
			took, stitches = took+r.Time, stitches+r.Stitches
		}
	}
	return took / Seconds(max(1, stitches))
}

// likely is the range in which the rows left will take their time; zeros where too few were measured.
func (p Pace) likely(left []int) (within [2]Seconds) {
	var times []float64
	sum, squares := 0.0, 0.0
	for _, r := range p.Rows {
		if r.Measured && r.Stitches > 0 {
			each := float64(r.Time) / float64(r.Stitches)
			times, sum = append(times, each), sum+each
		}
	}
	n := float64(len(times))
	if n < leastMeasured || len(left) == 0 {
		return within
	}
	mean := sum / n
	for _, each := range times {
		squares += (each - mean) * (each - mean)
	}
	stitches, scatter := 0.0, 0.0
	for _, c := range left {
		stitches += float64(c)
		scatter += float64(c) * float64(c)
	}
	off := student95(n-1) * math.Sqrt(squares/(n-1)) * math.Sqrt(scatter+stitches*stitches/n)
	from, to := time.Duration(max(0, stitches*mean-off)), time.Duration(stitches*mean+off)
	return [2]Seconds{Seconds(from.Round(time.Second)), Seconds(to.Round(time.Second))}
}

// student95 is the 95 % point of Student's distribution, by the first terms of its expansion in
// 1/degrees (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5; from memory), for
// 3 degrees of freedom and more within half a percent.
func student95(degrees float64) float64 {
	const z = 1.6448536269514722 // the same point of the normal distribution
	z3 := z * z * z
	z5, z7 := z3*z*z, z3*z3*z
	return z + (z3+z)/(4*degrees) + (5*z5+16*z3+3*z)/(96*math.Pow(degrees, 2)) +
		(3*z7+19*z5+17*z3-15*z)/(384*math.Pow(degrees, 3))
}

// left lists the stitches of the rows still to be worked; none once the piece is bound off.
func (s *State) left(stitches func(row int) int) (rows []int) {
	for row := s.Next(); row > 0 && row <= s.Total(); row++ {
		rows = append(rows, stitches(row))
	}
	if len(rows) > 0 {
		rows[0] -= min(s.Begun, rows[0])
	}
	return rows
}
