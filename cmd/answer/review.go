package answer

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/session"
)

// Review is what review answers; its JSON is schema 2. Rows, repeats and stitches count
// from 1, stitches in knitting order within the repeat; yarns are symbols. Lengths are in
// mm, 0 without a gauge; times in seconds.
type Review struct {
	*session.Review
	piece  *session.Piece
	inches bool
}

// NewReview is the answer of a piece that was reviewed; inches are for its words.
func NewReview(p *session.Piece, r *session.Review, inches bool) *Review {
	return &Review{r, p, inches}
}

// Document is the review in words.
func (a *Review) Document() d.Document {
	return d.Document{Title: a.title(), Blocks: a.blocks(a.mending(), nil)}
}

// Page has drawings of the fabric besides, to which the mending list leads, and the log at its end.
func (a *Review) Page() d.Document {
	k := draw.WithRowsToCome(a.piece, a.piece.State.Row, a.Mending)
	drawings := fabricBlocks(k, a.inches)
	if len(a.Mending) > 0 {
		drawings = append([]d.Block{d.Line{Text: d.Words("The numbers are those in the pictures.")}}, drawings...)
	}
	mending := a.mending()
	if list, is := mending[len(mending)-1].(d.Items); is {
		for i, m := range k.Mends {
			list.Items[i].Place, list.Items[i].Drawing = draw.MendPlace(m.Number), draw.Around(k, m)
		}
	}
	if len(a.OnCharts) > 0 {
		drawings = append(drawings, d.Heading{Text: d.Words("Catches on the charts"), Sum: d.Words("how many on each stitch, over all repeats")})
	}
	for _, m := range a.OnCharts {
		drawings = append(drawings, d.Picture{Drawing: draw.Heat(a.piece, m)})
	}
	drawings = append(drawings, a.otherwise()...)
	return d.Document{Title: a.title(), Blocks: append(a.blocks(mending, drawings), a.log()...)}
}

func (a *Review) title() string { return a.Piece + ": review" }

func (a *Review) blocks(mending, drawings []d.Block) []d.Block {
	return slices.Concat(
		[]d.Block{a.head(), d.Heading{Text: d.Words("Catches"), Sum: d.Words(a.catches())}, a.yarns()},
		mending, drawings, a.byRow(), a.changes(),
		section("Stacked, one catch above another", fmt.Sprint(len(a.Stacked)), catchItems(a.piece.MeetingWords(a.Stacked))),
		section("Near, one column apart", fmt.Sprint(len(a.Near)), catchItems(a.piece.MeetingWords(a.Near))),
		section("Turns", "", a.turns()),
		section("Time", a.time(), a.sittings()),
		section("Beside its pair", "", a.pair()),
		section("Cautions", "", items(a.Cautions)),
	)
}

// section is a list under its heading; nothing where nothing is listed.
func section(title, sum string, list d.Items) []d.Block {
	if len(list.Items) == 0 {
		return nil
	}
	heading := d.Heading{Text: d.Words(title)}
	if sum != "" {
		heading.Sum = d.Words(sum)
	}
	return []d.Block{heading, list}
}

func (a *Review) word() string { return session.RowWord(a.Round) }

func (a *Review) head() d.Line {
	text := fmt.Sprintf(": %d of %d %ss", a.Row, a.Of, a.word())
	if a.BoundOff {
		text += ", bound off"
	}
	line := d.Named(a.Piece, text+fmt.Sprintf(", at most %s uncaught", d.Counted(a.Limit, "stitch")))
	if a.Gauge != "" {
		line = append(line, d.Span{Text: ", gauge "}, gauge(a.Gauge, a.word()))
	}
	return d.Line{Text: line, Tone: d.Strong}
}

func (a *Review) catches() string {
	c := a.Catches
	if c == (session.Tally{}) {
		return "none so far"
	}
	text := fmt.Sprintf("%d planned, %d made; %d moved, %d missed, %d extra", c.Planned, c.Used, c.Moved, c.Missed, c.Extra)
	if c.Unwitnessed > 0 {
		rows := 0
		for _, row := range a.Rows {
			if row.Tally.Unwitnessed > 0 {
				rows++
			}
		}
		text += fmt.Sprintf("; %d not checked, in %s logged afterwards", c.Unwitnessed, d.Counted(rows, a.word()))
	}
	return text
}

func (a *Review) yarns() d.Items {
	list := d.Items{}
	for _, y := range a.ByYarn {
		text := ": " + d.Counted(y.Floats, "float")
		if y.Catches > 0 {
			text += fmt.Sprintf(", %d of them caught, %s", y.Caught, d.Counted(y.Catches, "catch"))
		}
		if g := y.Longest; g != nil {
			text += "; longest gap " + d.Counted(g.Stitches, "stitch")
			if g.Length > 0 {
				text += ", " + d.Length(g.Length, a.inches)
			}
			text += fmt.Sprintf(", in %s %d", a.word(), g.From.Row)
		}
		list.Items = append(list.Items, d.Item{Text: d.Named(y.Name, text)})
	}
	for _, m := range a.OnCharts {
		row, _, n := m.Hottest()
		if n == 1 {
			continue // of a stitch that is caught once nothing is to be seen
		}
		list.Items = append(list.Items, d.Item{Text: d.Named(m.Part, fmt.Sprintf(" row %d: most on one stitch, %s", row, d.Counted(n, "catch")))})
	}
	return list
}

func (a *Review) mending() []d.Block {
	if len(a.Mending) == 0 {
		return []d.Block{d.Heading{Text: d.Words("Nothing to mend"), Sum: d.Words("no gap is over the limit.")}}
	}
	gaps := 0
	for _, m := range a.Mending {
		gaps += len(m.Repeats)
	}
	list := d.Items{Numbered: true, Items: mapped(a.Mending, func(m session.Mend) d.Item { return d.Item{Text: d.Words(m.Text), More: d.Words(m.How)} })}
	return section("To mend, the most urgent first", d.Counted(gaps, "gap")+" over the limit", list)
}

func (a *Review) byRow() []d.Block {
	if a.Catches.Used == 0 {
		return nil
	}
	list := d.List{Between: ";", Members: mapped(d.Stretches(a.Row, a.caught), func(s d.Stretch) d.Text {
		return d.Text{{Text: s.Rows(), Aloud: chart.Plural(a.word(), s.To-s.From+1) + " " + s.Rows()}, {Text: ": " + s.Text}}
	})}
	return []d.Block{d.Heading{Text: d.Words("Catches by " + a.word())}, list}
}

func (a *Review) caught(row int) string {
	var parts []string
	for _, y := range a.ByYarn {
		if n := a.Rows[row-1].ByYarn[y.Yarn]; n > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", y.Name, n))
		}
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, ", ")
}

func (a *Review) changes() []d.Block {
	var lines []string
	for _, row := range a.Rows {
		if words := a.piece.Fates(row.Row, row.Changes); len(words) > 0 {
			lines = append(lines, fmt.Sprintf("%s %d: %s", a.word(), row.Row, strings.Join(words, "; ")))
		}
	}
	return section("Otherwise than planned", "", catchItems(lines))
}

func (a *Review) turns() d.Items {
	return d.Items{Items: mapped(a.Turns, func(t session.TurnedPair) d.Item {
		first := t.Yarns[0].Name
		return d.Item{Text: d.Named(first, strings.TrimPrefix(t.Text, first))}
	})}
}

func (a *Review) time() string {
	pace := a.Time
	text := fmt.Sprintf("%s in %s", spent(pace.SoFar), d.Counted(len(pace.Sittings), "sitting"))
	if pace.ToCome > 0 {
		text += fmt.Sprintf("; at this pace %s to come", spent(pace.ToCome)) + likely(pace)
	}
	if a.Ripped > 0 {
		text += fmt.Sprintf("; %s ripped back", d.Counted(a.Ripped, a.word()))
	}
	return text
}

func (a *Review) sittings() d.Items {
	lines := mapped(a.Time.Sittings, func(s session.Sitting) string { return a.sitting(s) + pace(s.PerStitch) })
	return items(append(lines, byRow(a.Time, a.word())...))
}

func (a *Review) sitting(s session.Sitting) string {
	rows := fmt.Sprintf("%s %d", a.word(), s.First)
	if s.Rows > 1 {
		rows = fmt.Sprintf("%ss %d to %d", a.word(), s.First, s.Last)
	}
	return fmt.Sprintf("%s: %s, %s, %s", d.DayTime(s.From), rows, d.Counted(s.Stitches, "stitch"), spent(s.Time))
}

func (a *Review) pair() d.Items {
	pair := a.Pair
	if pair == nil {
		return d.Items{}
	}
	list := items([]string{are(pair.Rows, a.word()) + " done on both"})
	list.Items = append(list.Items, d.Item{Text: d.Named(pair.First, side(pair.Other))}, d.Item{Text: d.Named(a.Piece, side(pair.This))})
	if len(pair.CatchesDiffer) > 0 {
		list.Items = append(list.Items, d.Item{Text: d.Words("another number of catches in " + rowList(a.word(), pair.CatchesDiffer))})
	}
	return list
}

func side(s session.PairSide) string {
	text := fmt.Sprintf(": %s, %s over the limit", d.Counted(s.Used, "catch"), d.Counted(s.Mending, "gap"))
	if s.Longest > 0 {
		text += ", longest gap " + d.Counted(s.Longest, "stitch")
	}
	if s.Time > 0 {
		text += ", " + spent(s.Time)
	}
	return text
}

// otherwise draws each row that was made otherwise than planned, before and after: the first repeat
// in which something changed. Above the last stands the row to come, in which that may move catches.
func (a *Review) otherwise() (blocks []d.Block) {
	to := min(a.Row+1, a.Of)
	before, after := draw.AsShown(a.piece, to), draw.WithRowsToCome(a.piece, to, nil)
	for _, row := range a.Rows {
		stitch := firstChanged(row.Changes)
		if stitch == 0 {
			continue
		}
		title := fmt.Sprintf("Otherwise than planned: %s %d, repeat %d", a.word(), row.Row, a.piece.PlaceOf(row.Row, stitch).Repeat)
		blocks = append(blocks, d.Heading{Text: d.Words(title), Sub: true})
		before.CutRepeatOf(row.Row, stitch)
		after.CutRepeatOf(row.Row, stitch)
		last := row.Row
		if last == a.Row {
			last = to
		}
		blocks = append(blocks, beforeAfter(before, after, row.Row, last, draw.Options{Bare: true})...)
	}
	return blocks
}

// firstChanged is the first stitch of a row whose catch was made otherwise, 0 for none.
func firstChanged(c session.Changes) int {
	marks := slices.Concat(c.Missed, c.Extra, mapped(c.Moved, func(m session.Move) session.Mark { return m.From }))
	if len(marks) == 0 {
		return 0
	}
	return slices.MinFunc(marks, session.Mark.Compare).Stitch
}

// log is the whole log in order, a list for each sitting. One begins with the row that its
// first time is of; what was logged before the first row stands by itself.
func (a *Review) log() []d.Block {
	blocks := []d.Block{d.Heading{Text: d.Words("Log")}, d.Heading{Text: d.Words("Before the first sitting"), Sub: true}}
	list, sittings := d.Items{}, a.Time.Sittings
	for _, e := range a.piece.State.History() {
		if _, row := e.Event.(*session.RowKnit); row && !e.Canceled && len(sittings) > 0 && e.At.Equal(sittings[0].From) {
			blocks = append(blocks, list, d.Heading{Text: d.Words(a.sitting(sittings[0])), Sub: true})
			list, sittings = d.Items{}, sittings[1:]
		}
		list.Items = append(list.Items, d.Item{Text: d.Text{{Text: e.At.Format("01-02 15:04"), Tone: d.Quiet}, {Text: " " + a.piece.Words(e)}}})
	}
	return append(blocks, list)
}

// likely is ", likely 4 h 30 min to 6 h"; empty where no range is known.
func likely(p session.Pace) string {
	from, to := spent(p.Likely[0]), spent(p.Likely[1])
	switch {
	case from == to:
		return ""
	case p.Likely[0] < session.Seconds(time.Minute):
		return ", likely up to " + to
	}
	return ", likely " + from + " to " + to
}

// pace is ", 21 stitches a minute"; empty where that was not measured.
func pace(perStitch session.Seconds) string {
	if perStitch == 0 {
		return ""
	}
	return fmt.Sprintf(", %s a minute", d.Counted(int((session.Seconds(time.Minute)+perStitch/2)/perStitch), "stitch"))
}

// byRow tells which row went quickest and which slowest by the stitch; nothing of fewer than two.
func byRow(p session.Pace, word string) []string {
	rows := slices.DeleteFunc(slices.Clone(p.Rows), func(r session.RowTime) bool { return !r.Measured || r.Stitches == 0 })
	if len(rows) < 2 {
		return nil
	}
	each := func(r session.RowTime) session.Seconds { return r.Time / session.Seconds(r.Stitches) }
	slices.SortStableFunc(rows, func(a, b session.RowTime) int { return int(each(a) - each(b)) })
	quick, slow := rows[0], rows[len(rows)-1]
	if each(quick) == each(slow) {
		return nil
	}
	return []string{fmt.Sprintf("quickest: %s %d, %s%s; slowest: %[1]s %[5]d, %[6]s%[7]s",
		word, quick.Row, spent(quick.Time), pace(each(quick)), slow.Row, spent(slow.Time), pace(each(slow)))}
}

func spent(t session.Seconds) string { return d.Spent(time.Duration(t)) }
