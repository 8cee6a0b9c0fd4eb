package render

import (
	"fmt"
	"slices"
	"strings"

	"strandwise/session"
)

// plainReview is a review for a speech program: a sentence a fact, in the order of the
// review as text, with words for signs.
type plainReview struct {
	page
	p      *session.Piece
	r      *session.Review
	inches bool
}

func (t *plainReview) write() error {
	for _, section := range []func(){
		t.head, t.catches, t.yarns, t.mending, t.byRow, t.changes, t.meetings, t.turns, t.time, t.pair, t.cautions,
	} {
		section()
	}
	return t.err
}

func (t *plainReview) word() string { return session.RowWord(t.r.Round) }

func (t *plainReview) head() {
	r := t.r
	t.sentence("%s: %d of %d %ss are worked", r.Piece, r.Row, r.Of, t.word())
	if r.BoundOff {
		t.sentence("it is bound off")
	}
	t.sentence("at most %s may stay uncaught", countOf(r.Limit, "stitch"))
	if r.Gauge != "" {
		t.sentence("the gauge is %s", gaugeAloud(r.Gauge, t.word()))
	}
}

// gaugeAloud says a gauge, which was read when it was logged, without signs: "24 stitches
// and 26 rounds in 10 cm".
func gaugeAloud(gauge, word string) string {
	counts, length, _ := strings.Cut(gauge, "/")
	size := strings.TrimRight(length, " cmin")
	unit := strings.TrimSpace(length[len(size):])
	stitches, rows, both := strings.Cut(counts, "x")
	across, up, measured := strings.Cut(size, "x")
	switch {
	case !both:
		return fmt.Sprintf("%s stitches in %s %s", stitches, across, unit)
	case !measured:
		return fmt.Sprintf("%s stitches and %s %ss in %s %s", stitches, rows, word, across, unit)
	}
	return fmt.Sprintf("%s stitches in %s %s, and %s %ss in %s %s", stitches, across, unit, rows, word, up, unit)
}

func (t *plainReview) catches() {
	c := t.r.Catches
	t.sentence("%s planned", were(c.Planned, "catch"))
	t.sentence("%s made", were(c.Used, "catch"))
	for _, kind := range []struct {
		n    int
		what string
	}{{c.Moved, "moved"}, {c.Missed, "missed"}, {c.Extra, "made beside the plan"}} {
		if kind.n > 0 {
			t.sentence("%s %s", were(kind.n, "catch"), kind.what)
		}
	}
	if n := c.Unwitnessed; n > 0 {
		t.sentence("%s taken on trust, in %s logged afterwards", were(n, "catch"), countOf(onTrust(t.r), t.word()))
	}
}

// were counts things and adds the verb: "1 catch was", "no catches were".
func were(n int, noun string) string {
	if n == 1 {
		return countOf(n, noun) + " was"
	}
	return countOf(n, noun) + " were"
}

// are counts things and adds the verb: "1 gap is", "no gaps are".
func are(n int, noun string) string { return countOf(n, noun) + " " + verb(n) }

func verb(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func (t *plainReview) yarns() {
	for _, y := range t.r.ByYarn {
		name := t.r.Yarns[y.Yarn].Name
		t.sentence("%s has %s", name, countOf(y.Floats, "float"))
		if y.Catches > 0 {
			t.sentence("%d of these %s caught, by %s", y.Caught, verb(y.Caught), countOf(y.Catches, "catch"))
		}
		if y.Longest.Stitches > 0 {
			t.sentence("the longest gap of %s is %s, in %s %d", name, gapLength(y.Longest, t.inches), t.word(), y.Longest.From.Row)
		}
	}
}

func (t *plainReview) mending() {
	mends := t.p.Mends(t.r)
	if len(mends) == 0 {
		t.sentence("%s", nothingToMend)
		return
	}
	t.sentence("%s over the limit and to be mended, the most urgent first", are(len(mends), "gap"))
	for _, m := range mends {
		t.sentence("number %d, %s: %s", m.Number, m.Where, m.What)
		if m.How != "" {
			t.sentence("%s", strings.TrimSuffix(m.How, "."))
		}
	}
}

// byRow tells the catches of each row, all rows with the same ones together.
func (t *plainReview) byRow() {
	if t.r.Catches.Used == 0 {
		return
	}
	var order []string
	rows := map[string][]int{}
	for _, row := range t.r.Rows {
		words := t.caught(row)
		if rows[words] == nil && words != "" {
			order = append(order, words)
		}
		rows[words] = append(rows[words], row.Row)
	}
	for _, words := range order {
		where := t.word() + " " + fmt.Sprint(rows[words][0])
		if len(rows[words]) > 1 {
			where = fmt.Sprintf("each of the %ss %s", t.word(), listed(Ranges(rows[words])))
		}
		t.sentence("%s in %s", words, where)
	}
	if len(rows[""]) > 0 {
		t.sentence("no catches in the other %ss", t.word())
	}
}

// caught counts the catches made in a row by yarn; empty without any.
func (t *plainReview) caught(row session.RowReview) string {
	var parts []string
	for y, n := range row.ByYarn {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%s of %s", countOf(n, "catch"), t.r.Yarns[y].Name))
		}
	}
	return listed(parts)
}

func (t *plainReview) changes() {
	for _, row := range t.r.Rows {
		for _, line := range t.p.Fates(row.Row) {
			t.sentence("in %s %d, %s", t.word(), row.Row, line)
		}
	}
}

func (t *plainReview) meetings() {
	for _, kind := range []struct {
		meetings []session.Meeting
		what     string
	}{{t.r.Stacked, "right above"}, {t.r.Near, "one column beside and above"}} {
		for i := 0; i < len(kind.meetings); {
			row, columns := kind.meetings[i].Row, []int{}
			for ; i < len(kind.meetings) && kind.meetings[i].Row == row; i++ {
				if column := kind.meetings[i].Column; !slices.Contains(columns, column) {
					columns = append(columns, column)
				}
			}
			noun, stand := "column", "stands"
			if len(columns) > 1 {
				noun, stand = "columns", "stand"
			}
			t.sentence("%s in %s %s of %s %d %s %s one of %s %d",
				countOf(len(columns), "catch"), noun, numbersOf(columns), t.word(), row, stand, kind.what, t.word(), row-1)
		}
	}
}

func (t *plainReview) turns() {
	for _, tangle := range t.r.Turns {
		t.sentence("%s", tangle.Untangle(t.r.Yarns[tangle.A].Name, t.r.Yarns[tangle.B].Name))
	}
}

func (t *plainReview) time() {
	pace := t.r.Pace
	if len(pace.Sittings) == 0 {
		return
	}
	t.sentence("the time so far is %s, in %s", Spent(pace.SoFar), countOf(len(pace.Sittings), "sitting"))
	if pace.ToCome > 0 {
		t.sentence("at this pace %s to come", Spent(pace.ToCome))
	}
	if t.r.Ripped > 0 {
		t.sentence("%s ripped back", were(t.r.Ripped, t.word()))
	}
	for i, s := range pace.Sittings {
		t.sentence("sitting %d, %s", i+1, SittingWords(t.r, s))
	}
}

func (t *plainReview) pair() {
	if t.r.Pair == nil {
		return
	}
	for _, line := range PairLines(t.r) {
		t.sentence("%s", line)
	}
}

func (t *plainReview) cautions() {
	for _, c := range t.r.Cautions {
		t.sentence("%s", c)
	}
}
