package cmd

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newReview(a *frame.App) *cobra.Command {
	o := &reviewOptions{}
	c := a.Leaf(frame.Spec{Use: "review", JSON: true}, withTaken(stored.TakeWhole, o.run))
	set := c.Flags()
	set.Var(frame.OneOf(&o.side, "right", "wrong"), "side", "draw that side: `right|wrong` (with --picture wrong, if not given)")
	set.StringVar(&o.rows, "rows", "", "draw only these rows: `N or N:M` (default: all that are finished)")
	set.StringVar(&o.repeats, "repeats", "", "draw only these repeats, of the widest block: `N or N:M`")
	o.picture.add(set, "picture", "", "draw into `FILE`.svg, .png or .pdf; - is an SVG on standard output", pictureKinds...)
	o.sheet.add(set, "sheet", "", "write everything on one page, `FILE`.html", ".html")
	addPaper(set, &o.paper)
	return c
}

type reviewOptions struct {
	side, rows, repeats, paper string
	picture, sheet             outFile
}

func (o *reviewOptions) run(a *frame.App, p *stored.Piece, _ []string) error {
	if err := o.check(p); err != nil {
		return err
	}
	inches := inches(a)
	r := p.Review(p.First)
	switch {
	case o.picture.asked() || o.sheet.asked():
		if err := o.draw(a, p, r, inches); err != nil || o.toStdout() || !a.Flags.JSON {
			return err
		}
	case o.side != "" && !a.Flags.JSON:
		k, err := o.shown(p, r)
		if err != nil {
			return err
		}
		return draw.FabricText(a.Out, k, o.fabricSide(), a.Display())
	}
	return a.Answer(2, answer.NewReview(p.Piece, r, inches))
}

func (o *reviewOptions) toStdout() bool { return o.picture.isAnswer() || o.sheet.isAnswer() }

func (o *reviewOptions) check(p *stored.Piece) error {
	drawn := o.side != "" || o.picture.asked()
	switch {
	case o.rows != "" && !drawn:
		return frame.Usage("--rows goes with --side or --picture").Hint("strandwise review --side wrong --rows %s", o.rows)
	case o.repeats != "" && !drawn:
		return frame.Usage("--repeats goes with --side or --picture").Hint("strandwise review --side wrong --repeats %s", o.repeats)
	case o.picture.isAnswer() && o.sheet.isAnswer():
		return frame.Usage("two answers want standard output").Hint("--picture wrong-side.svg, or --sheet review.html, to write a file")
	case p.State.Row == 0 && (o.sheet.asked() || drawn && o.rows == ""):
		return frame.Refused("no %s of %s is finished, so there is nothing to draw", p.RowWord(), p.State.Setup.Name).
			Hint("strandwise review --picture wrong-side.svg --rows 1:%d, as it is planned", p.Rows()).
			Hint("strandwise cards, for the %ss to come", p.RowWord()).
			Hint("strandwise show, for the %s to work now", p.RowWord())
	}
	return nil
}

func (o *reviewOptions) fabricSide() draw.Side { return cmp.Or(draw.Side(o.side), draw.WrongSide) }

// shown is the finished rows, or those asked for; rows to come as they are planned.
func (o *reviewOptions) shown(p *stored.Piece, r *session.Review) (*draw.Knitted, error) {
	last := p.Rows()
	if o.rows == "" {
		last = p.State.Row
	}
	from, to, err := rowRange("rows", o.rows, last, p.RowWord(), "the piece has %ss 1 to %d")
	if err != nil {
		return nil, err
	}
	k := draw.WithRowsToCome(p.Piece, to, r.Mending)
	k.CutRows(from, to)
	if o.repeats != "" {
		if from, to, err = rowRange("repeats", o.repeats, k.Repeats(), "repeat", "there are %ss 1 to %d"); err != nil {
			return nil, err
		}
		k.CutRepeats(from, to)
	}
	return k, nil
}

func (o *reviewOptions) draw(a *frame.App, p *stored.Piece, r *session.Review, inches bool) error {
	paper, name := paperNamed(o.paper, inches), p.State.Setup.Name
	drawn := fmt.Sprintf("the %s side of %s is drawn in %s", o.fabricSide(), name, o.picture.name)
	wrote := fmt.Sprintf("wrote %s: the review of %s", o.sheet.name, name)
	if o.toStdout() {
		drawn, wrote = "", ""
	}
	if o.picture.asked() {
		k, err := o.shown(p, r)
		if err != nil {
			return err
		}
		if err := o.picture.drawFabric(a, drawn, k, draw.Options{Side: o.fabricSide(), Inches: inches}, paper); err != nil {
			return err
		}
	}
	if !o.sheet.asked() {
		return nil
	}
	return o.sheet.draw(a, wrote, nil, answer.NewReview(p.Piece, r, inches).Page, paper)
}

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
