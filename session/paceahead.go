package session

import (
	"math"
	"time"
)

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
