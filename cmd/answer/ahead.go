package answer

import (
	"fmt"
	"slices"
	"time"

	"strandwise/session"

	d "strandwise/cmd/document"
)

// RowTime is what a row took; one that began a sitting was not measured and is taken at the usual
// pace.
type RowTime struct {
	Row      int     `json:"row"`
	Stitches int     `json:"stitches"`
	Seconds  Seconds `json:"time_s"`
	Measured bool    `json:"measured"`
}

// newTime is the time of a piece as programs are told it.
func newTime(p session.Pace) Time {
	t := Time{
		PerStitch: Seconds(p.PerStitch), SoFar: Seconds(p.SoFar), ToCome: Seconds(p.ToCome),
		Likely: [2]Seconds{Seconds(p.Likely[0]), Seconds(p.Likely[1])},
	}
	for i, s := range p.Sittings {
		t.Sittings = append(t.Sittings, Sitting{s, Seconds(s.Time), Seconds(p.SittingPace(i))})
	}
	for _, r := range p.Rows {
		t.Rows = append(t.Rows, RowTime{r.Row, r.Stitches, Seconds(r.Time), r.Measured})
	}
	return t
}

// likely tells the range in which the rest will lie, with how many sittings of the usual length
// that is: ", likely 4 h 30 min to 6 h, in 3 to 4 sittings"; nothing where none is known.
func likely(p session.Pace) string {
	from, to := d.Spent(p.Likely[0]), d.Spent(p.Likely[1])
	if p.Likely[1] == 0 || from == to {
		return ""
	}
	text := fmt.Sprintf(", likely %s to %s", from, to)
	if p.Likely[0] < time.Minute {
		text = ", likely up to " + to
	}
	n := len(p.Sittings)
	if n < 2 {
		return text
	}
	each := p.SoFar / time.Duration(n)
	switch least, most := upTo(p.Likely[0], each), upTo(p.Likely[1], each); {
	case least == most:
		return text + ", in " + d.Counted(most, "sitting")
	case p.Likely[0] < time.Minute:
		return text + ", in up to " + d.Counted(most, "sitting")
	default:
		return text + fmt.Sprintf(", in %d to %s", least, d.Counted(most, "sitting"))
	}
}

// upTo is how many lengths of time hold another, at least one.
func upTo(t, each time.Duration) int { return max(1, int((t+each-1)/max(1, each))) }

// pace tells how fast stitches were made: ", 21 stitches a minute"; nothing where that was not
// measured.
func pace(perStitch time.Duration) string {
	if perStitch == 0 {
		return ""
	}
	return fmt.Sprintf(", %s a minute", d.Counted(int((time.Minute+perStitch/2)/perStitch), "stitch"))
}

// byRow tells which row went quickest and which slowest by the stitch; nothing of fewer than two.
func byRow(p session.Pace, word string) []string {
	rows := slices.DeleteFunc(slices.Clone(p.Rows), func(r session.RowTime) bool { return !r.Measured || r.Stitches == 0 })
	if len(rows) < 2 {
		return nil
	}
	each := func(r session.RowTime) time.Duration { return r.Time / time.Duration(r.Stitches) }
	slices.SortStableFunc(rows, func(a, b session.RowTime) int { return int(each(a) - each(b)) })
	quick, slow := rows[0], rows[len(rows)-1]
	if each(quick) == each(slow) {
		return nil
	}
	return []string{fmt.Sprintf("quickest: %s %d, %s%s; slowest: %[1]s %[5]d, %[6]s%[7]s",
		word, quick.Row, d.Spent(quick.Time), pace(each(quick)), slow.Row, d.Spent(slow.Time), pace(each(slow)))}
}
