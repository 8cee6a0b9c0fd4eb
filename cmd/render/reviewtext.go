package render

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"strandwise/cmd/paint"
	"strandwise/session"
)

// ReviewText writes a review as text: what was caught, what to mend, how the yarns lie
// and how long it took. Sections of which there is nothing to tell are left out, all but
// the mending list.
func ReviewText(w io.Writer, p *session.Piece, r *session.Review, look Look, inches bool) error {
	if look.Plain {
		return (&plainReview{page{w: w, look: look}, p, r, inches}).write()
	}
	t := &reviewText{page: page{w: w, look: look}, p: p, r: r, inches: inches}
	for _, section := range []func(){
		t.head, t.catches, t.yarns, t.mending, t.byRow, t.changes, t.meetings, t.turns, t.time, t.pair, t.cautions,
	} {
		section()
	}
	return t.err
}

type reviewText struct {
	page
	p      *session.Piece
	r      *session.Review
	inches bool
}

func (t *reviewText) word() string { return session.RowWord(t.r.Round) }

// item writes an entry of a section; the lines after its first are indented as far as
// the label is wide.
func (t *reviewText) item(label, text string) { t.page.text("  "+label, text, nil) }

// title begins a section.
func (t *reviewText) title(text string) {
	t.line("")
	t.page.text("", text, t.look.Paint.Strong)
}

func (t *reviewText) head() {
	t.page.text("", t.r.Piece+": "+ReviewHead(t.r), t.look.Paint.Strong)
}

// ReviewHead is the line a review begins with, after the name: "22 of 22 rounds, bound
// off, at most 5 stitches uncaught".
func ReviewHead(r *session.Review) string {
	parts := []string{fmt.Sprintf("%d of %d %ss", r.Row, r.Of, session.RowWord(r.Round))}
	if r.BoundOff {
		parts = append(parts, "bound off")
	}
	parts = append(parts, fmt.Sprintf("at most %s uncaught", countOf(r.Limit, "stitch")))
	if r.Gauge != "" {
		parts = append(parts, "gauge "+r.Gauge)
	}
	return strings.Join(parts, ", ")
}

func (t *reviewText) mending() {
	mends := t.p.Mends(t.r)
	if len(mends) == 0 {
		t.title(nothingToMend)
		return
	}
	t.title(MendingHead(len(mends)))
	for _, m := range mends {
		t.item(fmt.Sprintf("%d. ", m.Number), m.String())
		if m.How != "" {
			t.item("   ", m.How)
		}
	}
}

// nothingToMend stands in the place of an empty mending list.
const nothingToMend = "Nothing to mend: no gap is over the limit."

// MendingHead is the title of a mending list that is not empty.
func MendingHead(n int) string {
	return fmt.Sprintf("To mend, the most urgent first: %s over the limit", countOf(n, "gap"))
}

func (t *reviewText) catches() {
	t.title("Catches: " + CatchesWords(t.r))
}

// CatchesWords counts the catches in one sentence without its stop.
func CatchesWords(r *session.Review) string {
	c := r.Catches
	if c == (session.Tally{}) {
		return "none so far"
	}
	text := fmt.Sprintf("%d planned, %d made; %d moved, %d missed, %d extra", c.Planned, c.Used, c.Moved, c.Missed, c.Extra)
	if c.Unwitnessed > 0 {
		text += fmt.Sprintf("; %d taken on trust, in %s logged afterwards", c.Unwitnessed, countOf(onTrust(r), session.RowWord(r.Round)))
	}
	return text
}

// onTrust counts the rows that were logged afterwards and have catches.
func onTrust(r *session.Review) int {
	rows := 0
	for _, row := range r.Rows {
		if row.Tally.Unwitnessed > 0 {
			rows++
		}
	}
	return rows
}

func (t *reviewText) yarns() {
	for _, y := range t.r.ByYarn {
		t.item("", t.r.Yarns[y.Yarn].Name+": "+YarnWords(t.r, y, t.inches))
	}
}

// YarnWords tells of one yarn: "12 floats, 4 of them caught, 5 catches; longest gap 5
// stitches, 2.5 cm, in round 3".
func YarnWords(r *session.Review, y session.YarnReview, inches bool) string {
	if y.Floats == 0 {
		return "no floats"
	}
	text := countOf(y.Floats, "float")
	if y.Catches > 0 {
		text += fmt.Sprintf(", %d of them caught, %s", y.Caught, countOf(y.Catches, "catch"))
	}
	if y.Longest.Stitches == 0 {
		return text
	}
	return text + fmt.Sprintf("; longest gap %s, in %s %d", gapLength(y.Longest, inches), session.RowWord(r.Round), y.Longest.From.Row)
}

// gapLength is a gap in stitches and, where the gauge is known, as a length.
func gapLength(g session.Gap, inches bool) string {
	text := countOf(g.Stitches, "stitch")
	if g.Length > 0 {
		text += ", " + Length(g.Length, inches)
	}
	return text
}

// byRow tells the catches of each row by yarn, rows alike together.
func (t *reviewText) byRow() {
	if t.r.Catches.Used == 0 {
		return
	}
	t.title("Catches by " + t.word())
	all := stretches(t.r.Row, func(row int) string { return RowCatches(t.r, row) })
	pieces := make([]paint.Span, len(all))
	for i, s := range all {
		pieces[i].Text = s.rows() + ": " + s.text
		if i < len(all)-1 {
			pieces[i].Text += ";"
		}
	}
	for _, line := range paint.Wrap("  ", pieces, t.look.Width) {
		t.line(line)
	}
}

// RowCatches tells the catches made in a row: "oat 8, fjord 4"; "none" without any.
func RowCatches(r *session.Review, row int) string {
	var parts []string
	for y, n := range r.Rows[row-1].ByYarn {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", r.Yarns[y].Name, n))
		}
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, ", ")
}

// changes lists the rows worked otherwise than shown.
func (t *reviewText) changes() {
	rows := slices.DeleteFunc(slices.Clone(t.r.Rows), func(row session.RowReview) bool { return !row.Changes.Any() })
	if len(rows) == 0 {
		return
	}
	t.title("Otherwise than planned")
	for _, row := range rows {
		t.item("", fmt.Sprintf("%s %d: %s", t.word(), row.Row, strings.Join(t.p.Fates(row.Row), "; ")))
	}
}

func (t *reviewText) meetings() {
	for _, kind := range []struct {
		meetings []session.Meeting
		title    string
	}{
		{t.r.Stacked, "Stacked, one catch above another"},
		{t.r.Near, "Near, one column apart"},
	} {
		if len(kind.meetings) == 0 {
			continue
		}
		t.title(fmt.Sprintf("%s: %d", kind.title, len(kind.meetings)))
		for _, line := range MeetingLines(kind.meetings, t.word()) {
			t.item("", line)
		}
	}
}

// MeetingLines tells where catches meet, a line a row: "round 12, on round 11: columns
// 5, 18"; where the lower catch stands in another column it is named too.
func MeetingLines(meetings []session.Meeting, word string) []string {
	var lines []string
	for i := 0; i < len(meetings); {
		row, places := meetings[i].Row, []string{}
		for ; i < len(meetings) && meetings[i].Row == row; i++ {
			m := meetings[i]
			place := fmt.Sprint(m.Column)
			if m.Below != m.Column {
				place = fmt.Sprintf("%d on %d", m.Column, m.Below)
			}
			places = append(places, place)
		}
		columns := "columns"
		if len(places) == 1 {
			columns = "column"
		}
		lines = append(lines, fmt.Sprintf("%s %d above %s %d: %s %s", word, row, word, row-1, columns, strings.Join(places, ", ")))
	}
	return lines
}

func (t *reviewText) turns() {
	if len(t.r.Turns) == 0 {
		return
	}
	t.title("Turns")
	for _, tangle := range t.r.Turns {
		t.item("", tangle.Untangle(t.r.Yarns[tangle.A].Name, t.r.Yarns[tangle.B].Name))
	}
}

func (t *reviewText) time() {
	if len(t.r.Pace.Sittings) == 0 {
		return
	}
	t.title("Time: " + TimeWords(t.r))
	for _, s := range t.r.Pace.Sittings {
		t.item("", SittingWords(t.r, s))
	}
}

// TimeWords tells the time so far and to come.
func TimeWords(r *session.Review) string {
	text := fmt.Sprintf("%s in %s", Spent(r.Pace.SoFar), countOf(len(r.Pace.Sittings), "sitting"))
	if r.Pace.ToCome > 0 {
		text += fmt.Sprintf("; at this pace %s to come", Spent(r.Pace.ToCome))
	}
	if r.Ripped > 0 {
		text += fmt.Sprintf("; %s ripped back", countOf(r.Ripped, session.RowWord(r.Round)))
	}
	return text
}

// SittingWords tells of one sitting: "2031-03-09 12:00: rounds 1 to 8, 480 stitches, 35 min".
func SittingWords(r *session.Review, s session.Sitting) string {
	word := session.RowWord(r.Round)
	rows := fmt.Sprintf("%s %d", word, s.First)
	if s.Rows > 1 {
		rows = fmt.Sprintf("%ss %d to %d", word, s.First, s.Last)
	}
	return fmt.Sprintf("%s: %s, %s, %s", dayTime(s.From), rows, countOf(s.Stitches, "stitch"), Spent(s.Time))
}

func (t *reviewText) pair() {
	if t.r.Pair == nil {
		return
	}
	t.title("Beside its pair")
	for _, line := range PairLines(t.r) {
		t.item("", line)
	}
}

// PairLines sets the second of a pair beside the first.
func PairLines(r *session.Review) []string {
	pair, word := r.Pair, session.RowWord(r.Round)
	line := func(s session.PairSide) string {
		text := fmt.Sprintf("%s, %s over the limit", countOf(s.Used, "catch"), countOf(s.Mending, "gap"))
		if s.Longest > 0 {
			text += ", longest gap " + countOf(s.Longest, "stitch")
		}
		if s.Time > 0 {
			text += ", " + Spent(s.Time)
		}
		return text
	}
	lines := []string{
		are(pair.Rows, word) + " done on both",
		pair.First + ": " + line(pair.Other),
		r.Piece + ": " + line(pair.This),
	}
	if len(pair.CatchesDiffer) > 0 {
		differ := stretches(pair.Rows, func(row int) string {
			if slices.Contains(pair.CatchesDiffer, row) {
				return "differs"
			}
			return ""
		})
		names := make([]string, len(differ))
		for i, s := range differ {
			names[i] = s.rows()
		}
		lines = append(lines, fmt.Sprintf("another number of catches in %s %s", word, strings.Join(names, ", ")))
	}
	return lines
}

func (t *reviewText) cautions() {
	if len(t.r.Cautions) == 0 {
		return
	}
	t.title("Cautions")
	for _, c := range t.r.Cautions {
		t.item("", c)
	}
}
