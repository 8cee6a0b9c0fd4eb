package render

import (
	"fmt"
	"html/template"
	"io"
)

// CardsHTML writes cards as one page. The same cards give the same bytes.
func CardsHTML(w io.Writer, c *Cards, paper Paper) error {
	word := "Rounds"
	if c.Rows[0].Word == "row" {
		word = "Rows"
	}
	content := cardsPage{Title: c.Title, Intro: c.Intro, Cautions: c.Cautions, Rows: word}
	content.Chart = newPagePicture(c.Chart, PictureLook{Side: RightSide, Inches: c.Inches}, "chart", "").Parts
	for i := range c.Rows {
		row := &c.Rows[i]
		content.Cards = append(content.Cards, cardOnPage{CardRow: row, Strip: inline(row.Strip, fmt.Sprintf("row%d", row.Number))})
	}
	return writePage(w, "cards.html", paper, content)
}

// cardsPage is what the page of cards shows.
type cardsPage struct {
	Title           string
	Intro, Cautions []string
	Chart           []template.HTML
	Rows            string // what the rows are called
	Cards           []cardOnPage
}

// cardOnPage is a row with its strip drawn.
type cardOnPage struct {
	*CardRow
	Strip template.HTML
}
