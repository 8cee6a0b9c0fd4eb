package cmd

import (
	"fmt"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

func newCards(a *frame.App) *cobra.Command {
	o := &cardsOptions{}
	c := a.Leaf(frame.Spec{Use: "cards", JSON: true}, o.run)
	set := c.Flags()
	o.out.add(set, "out", "o", "write into `FILE`.pdf or .html; - is HTML on standard output", ".html", ".pdf")
	set.StringVar(&o.rows, "rows", "", "only these rows: `N or N:M` (default: all that are still to be knitted)")
	set.BoolVar(&o.large, "large", false, "for low vision: all in words, in black letters of 24 points")
	addPaper(set, &o.paper)
	return c
}

type cardsOptions struct {
	out         outFile
	rows, paper string
	large       bool
}

func (o *cardsOptions) run(a *frame.App, _ []string) error {
	if !o.out.asked() {
		return frame.Usage("cards needs the name of a file").Hint("strandwise cards -o cards.pdf").Hint("strandwise cards -o cards.html")
	}
	p, err := stored.Take(a)
	if err != nil {
		return err
	}
	from, to, err := o.rowsOf(p)
	if err != nil {
		return err
	}
	inches := inches(a)
	paper := paperNamed(o.paper, inches)
	cards := answer.NewCards(p.Piece, from, to, o.out.name, answer.CardsOptions{Paper: paper, Inches: inches, Large: o.large, At: a.Env.Now()})
	said := fmt.Sprintf("wrote %s: the cards of %s, %ss %d to %d", o.out.name, cards.Piece, p.RowWord(), from, to)
	pages := cards.Page
	if o.out.kind() == ".pdf" {
		pages = cards.Document
	}
	if err := o.out.draw(a, said, nil, pages, paper); err != nil || o.out.isAnswer() || !a.Flags.JSON {
		return err
	}
	return a.AnswerJSON(1, cards)
}

func (o *cardsOptions) rowsOf(p *stored.Piece) (from, to int, err error) {
	if o.rows != "" {
		return rowRange("rows", o.rows, p.Rows(), p.RowWord(), "the piece has %ss 1 to %d")
	}
	if next := p.State.Next(); next > 0 {
		return next, p.Rows(), nil
	}
	return 0, 0, frame.Refused("no %s of %s is left to knit", p.RowWord(), p.State.Setup.Name).
		Hint("strandwise cards --rows 1:%d -o %s, for the %ss that are knitted", p.Rows(), o.out.name, p.RowWord())
}
