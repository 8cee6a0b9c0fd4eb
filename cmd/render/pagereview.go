package render

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"strandwise/cmd/draw"
	"strandwise/session"
)

// ReviewHTML writes a review as one page: summary, mending list, both sides, and the log by
// sitting. At least one row must be finished. The same piece gives the same bytes.
func ReviewHTML(w io.Writer, piece *session.Piece, r *session.Review, inches bool, paper draw.Paper) error {
	p := beginPage(w, r.Piece+": review", paper)
	p.put("<header>\n")
	p.lines(heading, r.Piece)
	p.lines(paragraph, ReviewHead(r)+".")
	p.put("</header>\n<main>\n")
	p.section("catches", "Catches", func() { p.catches(r, inches) })
	p.section("mending", "To mend", func() { p.mends(piece.Mends(r)) })
	k := draw.WorkedPart(piece, r)
	p.side("wrong", "Wrong side", pageParts(k, draw.Options{Side: draw.WrongSide, Inches: inches}))
	p.side("right", "Right side", pageParts(k, draw.Options{Side: draw.RightSide, Inches: inches}))
	for _, l := range reviewLists(piece, r) {
		p.listed(l)
	}
	p.section("log", "Log", func() { p.log(logBySitting(piece, r)) })
	p.put("</main>\n")
	return p.end()
}

// catches writes how many catches there are, and what is told of each yarn.
func (p *pageWriter) catches(r *session.Review, inches bool) {
	p.lines(paragraph, CatchesWords(r)+".")
	p.put("<dl>\n")
	for _, y := range r.ByYarn {
		p.element(term, r.Yarns[y.Yarn].Name)
		p.lines(definition, YarnWords(r, y, inches))
	}
	p.put("</dl>\n")
}

// mends writes the mending list.
func (p *pageWriter) mends(mends []session.Mend) {
	if len(mends) == 0 {
		p.lines(paragraph, "Nothing to mend: no gap is over the limit.")
		return
	}
	items := make([]string, len(mends))
	for i, m := range mends {
		items[i] = m.String()
		if m.How != "" {
			items[i] += ". " + m.How
		}
	}
	p.lines(paragraph, MendingHead(len(mends))+". The numbers are those in the pictures.")
	p.list("ol", items)
}

// side writes the picture of a side of the fabric.
func (p *pageWriter) side(id markup, title string, parts []*draw.Scene) {
	p.section(id, title, func() {
		if n := len(parts); n > 1 {
			p.lines(paragraph, fmt.Sprintf("In %d parts; neighbors share two rows or columns.", n))
		}
		p.figures(parts, id)
	})
}

// pageList is a section of a page that is a list.
type pageList struct {
	ID           markup
	Title, Intro string
	Items        []string
}

// listed writes a section that is a list.
func (p *pageWriter) listed(l pageList) {
	p.section(l.ID, l.Title, func() {
		if l.Intro != "" {
			p.lines(paragraph, l.Intro)
		}
		p.list("ul", l.Items)
	})
}

// logGroup is the log of one sitting.
type logGroup struct {
	Title string
	Lines []logLine
}

// logLine is an event.
type logLine struct{ Time, Text string }

// log writes the log, a list for each sitting.
func (p *pageWriter) log(groups []logGroup) {
	for _, g := range groups {
		p.lines(subheading, g.Title)
		p.put(`<ul class="log">`, "\n")
		for _, l := range g.Lines {
			p.put("<li>")
			p.element(aside, l.Time)
			p.put(" ")
			p.text(l.Text)
			p.put("</li>\n")
		}
		p.put("</ul>\n")
	}
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
		if words := strings.Join(p.Fates(row.Row), "; "); words != "" {
			items = append(items, fmt.Sprintf("%s %d: %s", word, row.Row, words))
		}
	}
	return items
}

func turnItems(p *session.Piece, r *session.Review) []string {
	var items []string
	for _, t := range r.Turns {
		items = append(items, t.Untangle(r.Yarns[t.A].Name, r.Yarns[t.B].Name))
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
	for _, e := range p.State.History() {
		if next < len(r.Pace.Sittings) && isRow(e) && !e.Cancelled && e.At.Equal(r.Pace.Sittings[next].From) {
			groups = append(groups, logGroup{Title: SittingWords(r, r.Pace.Sittings[next])})
			next++
		}
		last := &groups[len(groups)-1]
		last.Lines = append(last.Lines, logLine{clock(e.At), p.Words(e)})
	}
	return groups
}

func isRow(e session.Entry) bool {
	_, is := e.Event.(*session.RowKnit)
	return is
}

// clock is the time of a line of the log.
func clock(t time.Time) string { return t.Format("01-02 15:04") }
