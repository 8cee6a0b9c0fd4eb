package cmd

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newReview(a *frame.App) *cobra.Command {
	o := &reviewOptions{}
	c := a.Leaf(frame.Spec{Use: "review", JSON: true}, o.run)
	set := c.Flags()
	set.Var(frame.OneOf(&o.side, "right", "wrong"), "side", "draw that side: `right|wrong` (with --picture wrong, if not given)")
	set.StringVar(&o.rows, "rows", "", "draw only these rows: `N or N:M` (default: all that are finished)")
	set.StringVar(&o.repeats, "repeats", "", "draw only these repeats, of the widest block: `N or N:M`")
	set.StringVar(&o.picture, "picture", "", "draw into `FILE`.svg, .png or .pdf; - is an SVG on standard output")
	set.StringVar(&o.sheet, "sheet", "", "write everything on one page, `FILE`.html")
	addPaper(set, &o.paper)
	set.BoolVar(&o.force, "force", false, "replace a file that is there")
	return c
}

// reviewOptions are the flags of review.
type reviewOptions struct {
	side, rows, repeats, picture, sheet, paper string
	force                                      bool
}

func (o *reviewOptions) run(a *frame.App, _ []string) error {
	p, err := stored.TakeWhole(a)
	if err != nil {
		return err
	}
	if err := o.check(a, p); err != nil {
		return err
	}
	inches := inches(a)
	r := p.Review(p.First)
	switch {
	case o.picture != "" || o.sheet != "":
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

// toStdout reports whether a file asked for is standard output.
func (o *reviewOptions) toStdout() bool {
	return o.picture == frame.FromStdin || o.sheet == frame.FromStdin
}

// check refuses what cannot be drawn or written.
func (o *reviewOptions) check(a *frame.App, p *stored.Piece) error {
	if o.rows != "" && o.side == "" && o.picture == "" {
		return frame.Usage("--rows goes with --side or --picture").Hint("strandwise review --side wrong --rows %s", o.rows)
	}
	if o.repeats != "" && o.side == "" && o.picture == "" {
		return frame.Usage("--repeats goes with --side or --picture").Hint("strandwise review --side wrong --repeats %s", o.repeats)
	}
	if err := checkSheet(o.sheet); err != nil {
		return err
	}
	if o.picture == frame.FromStdin && o.sheet == frame.FromStdin {
		return frame.Usage("two answers want standard output").Hint("--picture wrong-side.svg, or --sheet review.html, to write a file")
	}
	toCome := (o.picture != "" || o.side != "") && o.rows != "" && o.sheet == ""
	if p.State.Row == 0 && !toCome && (o.side != "" || o.picture != "" || o.sheet != "") {
		return frame.Refused("no %s of %s is finished, so there is nothing to draw", p.RowWord(), p.State.Setup.Name).
			Hint("strandwise review --picture wrong-side.svg --rows 1:%d, as it is planned", p.Rows()).
			Hint("strandwise cards, for the %ss to come", p.RowWord()).Hint("%s", frame.ToWork(p.Round()))
	}
	return nil
}

func (o *reviewOptions) fabricSide() draw.Side {
	if o.side == draw.RightSide.String() {
		return draw.RightSide
	}
	return draw.WrongSide
}

// shown is what is to be drawn: the finished rows, or the part asked for, of rows to come
// as they are planned.
func (o *reviewOptions) shown(p *stored.Piece, r *session.Review) (*draw.Knitted, error) {
	last := p.Rows()
	if o.rows == "" {
		last = p.State.Row
	}
	from, to, err := rowRange("rows", o.rows, last, p.RowWord(), "the piece has %ss 1 to %d")
	if err != nil {
		return nil, err
	}
	k := draw.WithRowsToCome(p.Piece, to, p.Mends(r))
	k.CutRows(from, to)
	if o.repeats != "" {
		if from, to, err = rowRange("repeats", o.repeats, k.Repeats(), "repeat", "there are %ss 1 to %d"); err != nil {
			return nil, err
		}
		k.CutRepeats(from, to)
	}
	return k, nil
}

// draw writes the files asked for and says so.
func (o *reviewOptions) draw(a *frame.App, p *stored.Piece, r *session.Review, inches bool) error {
	paper, name := paperNamed(o.paper, inches), p.State.Setup.Name
	if o.picture != "" {
		k, err := o.shown(p, r)
		if err == nil {
			err = writeFabric(a, o.picture, o.force, k, draw.Options{Side: o.fabricSide(), Inches: inches}, paper)
		}
		if err != nil {
			return err
		}
	}
	if o.sheet != "" {
		sheet := func(w io.Writer) error {
			return document.WriteHTML(w, answer.NewReview(p.Piece, r, inches).Page(), paper)
		}
		if err := a.WriteOutput(o.sheet, o.force, sheet); err != nil {
			return err
		}
	}
	if o.picture != "" && !o.toStdout() {
		a.Say(fmt.Sprintf("the %s side of %s is drawn in %s", o.fabricSide(), name, o.picture), "")
	}
	if o.sheet != "" && !o.toStdout() {
		a.Say(fmt.Sprintf("wrote %s: the review of %s", o.sheet, name), "")
	}
	return nil
}
