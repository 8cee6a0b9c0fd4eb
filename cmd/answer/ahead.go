package answer

import (
	"fmt"
	"slices"
	"time"

	"strandwise/session"

	d "strandwise/cmd/document"
)

// RowTime is what a row took.
type RowTime struct {
	session.RowTime
	Seconds Seconds `json:"time_s"`
}

func newTime(p session.Pace) Time {
	t := Time{
		PerStitch: Seconds(p.PerStitch), SoFar: Seconds(p.SoFar), ToCome: Seconds(p.ToCome),
		Likely: [2]Seconds{Seconds(p.Likely[0]), Seconds(p.Likely[1])},
	}
	for i, s := range p.Sittings {
		t.Sittings = append(t.Sittings, Sitting{s, Seconds(s.Time), Seconds(p.SittingPace(i))})
	}
	t.Rows = mapped(p.Rows, func(r session.RowTime) RowTime { return RowTime{r, Seconds(r.Time)} })
	return t
}

// likely is ", likely 4 h 30 min to 6 h"; empty where no range is known.
func likely(p session.Pace) string {
	from, to := d.Spent(p.Likely[0]), d.Spent(p.Likely[1])
	switch {
	case from == to:
		return ""
	case p.Likely[0] < time.Minute:
		return ", likely up to " + to
	}
	return ", likely " + from + " to " + to
}

// pace is ", 21 stitches a minute"; empty where that was not measured.
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
