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
