package cmd

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

func newCards(a *frame.App) *cobra.Command {
	o := &cardsOptions{}
	c := a.Leaf(frame.Spec{Use: "cards", JSON: true}, o.run)
	set := c.Flags()
	set.StringVarP(&o.out, "out", "o", "", "write into `FILE`.pdf or .html; - is HTML on standard output")
	set.StringVar(&o.rows, "rows", "", "only these rows: `N or N:M` (default: all that are still to be knitted)")
	set.BoolVar(&o.large, "large", false, "for low vision: all in words, in black letters of 24 points")
	addPaper(set, &o.paper)
	set.BoolVar(&o.force, "force", false, "replace a file that is there")
	return c
}

// cardsOptions are the flags of cards.
type cardsOptions struct {
	out, rows, paper string
	large, force     bool
}

func (o *cardsOptions) run(a *frame.App, _ []string) error {
	if err := o.check(); err != nil {
		return err
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
	cards := answer.NewCards(p.Piece, from, to, o.out, answer.CardsOptions{Paper: paper, Inches: inches, Large: o.large, At: a.Env.Now()})
	write := func(w io.Writer) error {
		if strings.ToLower(filepath.Ext(o.out)) == ".pdf" {
			return document.WritePDF(w, cards.Document(), paper)
		}
		return document.WriteHTML(w, cards.Page(), paper)
	}
	if err := a.WriteOutput(o.out, o.force, write); err != nil || o.out == frame.FromStdin {
		return err
	}
	if a.Flags.JSON {
		return a.AnswerJSON(1, cards)
	}
	a.Say(fmt.Sprintf("wrote %s: the cards of %s, %ss %d to %d", o.out, cards.Piece, p.RowWord(), from, to), "")
	return nil
}

// check refuses a file whose name does not say what it is to be.
func (o *cardsOptions) check() error {
	switch ext := strings.ToLower(filepath.Ext(o.out)); {
	case o.out == "":
		return frame.Usage("cards needs the name of a file").Hint("strandwise cards -o cards.pdf").Hint("strandwise cards -o cards.html")
	case o.out != frame.FromStdin && ext != ".pdf" && ext != ".html" && ext != ".htm":
		return frame.Usage("-o %s: the name is to end in .pdf or .html", o.out).Hint("-o %s.pdf", strings.TrimSuffix(o.out, filepath.Ext(o.out)))
	}
	return nil
}

// rowsOf are the rows that get cards.
func (o *cardsOptions) rowsOf(p *stored.Piece) (from, to int, err error) {
	if o.rows != "" {
		return rowRange("rows", o.rows, p.Rows(), p.RowWord(), "the piece has %ss 1 to %d")
	}
	if next := p.State.Next(); next > 0 {
		return next, p.Rows(), nil
	}
	return 0, 0, frame.Refused("no %s of %s is left to knit", p.RowWord(), p.State.Setup.Name).
		Hint("strandwise cards --rows 1:%d -o %s, for the %ss that are knitted", p.Rows(), o.out, p.RowWord())
}
