package render

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"strandwise/session"
)

// ReviewHTML writes a review as one page: summary, mending list, both sides, and the log by
// sitting. At least one row must be finished. The same piece gives the same bytes.
func ReviewHTML(w io.Writer, p *session.Piece, r *session.Review, inches bool, paper Paper) error {
	return writePage(w, "review.html", paper, newReviewPage(p, r, inches))
}

// reviewPage is what the page of a review shows.
type reviewPage struct {
	Title, Name, Head, Catches string
	Yarns                      []namedText
	MendHead                   string
	Mends                      []string
	Pictures                   []pagePicture
	Lists                      []pageList
	Log                        []logGroup
}

// namedText is a word with what is told of it.
type namedText struct{ Name, Text string }

// pageList is a section of a page that is a list.
type pageList struct {
	ID, Title, Intro string
	Items            []string
}

// logGroup is the log of one sitting.
type logGroup struct {
	Title string
	Lines []logLine
}

// logLine is an event.
type logLine struct{ Time, Text string }

func newReviewPage(p *session.Piece, r *session.Review, inches bool) reviewPage {
	page := reviewPage{
		Title: r.Piece + ": review", Name: r.Piece, Head: ReviewHead(r), Catches: CatchesWords(r),
		Lists: reviewLists(p, r), Log: logBySitting(p, r),
	}
	for _, y := range r.ByYarn {
		page.Yarns = append(page.Yarns, namedText{r.Yarns[y.Yarn].Name, YarnWords(r, y, inches)})
	}
	for _, m := range p.Mends(r) {
		page.Mends = append(page.Mends, m.String())
	}
	page.MendHead = MendingHead(len(page.Mends))
	k := WorkedPart(p, r)
	page.Pictures = []pagePicture{
		newPagePicture(k, PictureLook{Side: WrongSide, Inches: inches}, "wrong", "Wrong side"),
		newPagePicture(k, PictureLook{Side: RightSide, Inches: inches}, "right", "Right side"),
	}
	return page
}

// reviewLists are the lists of which there is something to tell.
func reviewLists(p *session.Piece, r *session.Review) []pageList {
	word := session.RowWord(r.Round)
	lists := []pageList{
		{ID: "by-row", Title: "Catches by " + word, Items: rowItems(r, word)},
		{ID: "changes", Title: "Otherwise than planned", Items: changeItems(p, r, word)},
		{ID: "stacked", Title: "Stacked, one catch above another", Items: MeetingLines(r.Stacked, word)},
		{ID: "near", Title: "Near, one column apart", Items: MeetingLines(r.Near, word)},
		{ID: "turns", Title: "Turns", Items: turnItems(p, r)},
		{ID: "time", Title: "Time", Intro: sentence(TimeWords(r)), Items: sittingItems(r)},
	}
	if r.Pair != nil {
		lists = append(lists, pageList{ID: "pair", Title: "Beside its pair", Items: PairLines(r)})
	}
	lists = append(lists, pageList{ID: "cautions", Title: "Cautions", Items: r.Cautions})
	return slices.DeleteFunc(lists, func(l pageList) bool { return len(l.Items) == 0 })
}

func rowItems(r *session.Review, word string) []string {
	var items []string
	for _, s := range stretches(r.Row, func(row int) string { return RowCatches(r, row) }) {
		words := word
		if s.to > s.from {
			words += "s"
		}
		items = append(items, fmt.Sprintf("%s %s: %s", words, s.rows(), s.text))
	}
	return items
}

func changeItems(p *session.Piece, r *session.Review, word string) []string {
	var items []string
	for _, row := range r.Rows {
		if words := strings.Join(p.ChangeWords(row.Row, row.Changes), "; "); words != "" {
			items = append(items, fmt.Sprintf("%s %d: %s", word, row.Row, words))
		}
	}
	return items
}

func turnItems(p *session.Piece, r *session.Review) []string {
	var items []string
	for _, t := range r.Turns {
		items = append(items, t.Untangle(r.Yarns[t.A].Name, r.Yarns[t.B].Name, p.State.Setup.Mirror))
	}
	return items
}

func sittingItems(r *session.Review) []string {
	items := make([]string, len(r.Pace.Sittings))
	for i, s := range r.Pace.Sittings {
		items[i] = SittingWords(r, s)
	}
	return items
}

// logBySitting is the whole log in order. A sitting begins with the row that its first time is of;
// what was logged before the first row stands by itself.
func logBySitting(p *session.Piece, r *session.Review) []logGroup {
	groups := []logGroup{{Title: "Before the first sitting"}}
	next := 0
	for _, e := range p.State.Log() {
		if next < len(r.Pace.Sittings) && e.Kind == session.KindRowKnit && !e.Cancelled && e.At.Equal(r.Pace.Sittings[next].From) {
			groups = append(groups, logGroup{Title: SittingWords(r, r.Pace.Sittings[next])})
			next++
		}
		last := &groups[len(groups)-1]
		last.Lines = append(last.Lines, logLine{clock(e.At), p.Words(e)})
	}
	return groups
}

// clock is the time of a line of the log.
func clock(t time.Time) string { return t.Format("01-02 15:04") }
