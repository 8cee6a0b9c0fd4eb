package cmd

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/render"
	"strandwise/session"
)

func newReview(a *app) *cobra.Command {
	o := &reviewOptions{}
	c := a.leaf(spec{
		use:   "review",
		short: "look back: catches, gaps to mend, pictures, time",
		long: "Looks back on the piece, finished or under way: catches planned and made, where they stack, the longest gap of each yarn, what to mend and in what order, and the time it took, sitting by sitting. The second of a pair is set beside the first.\n\n" +
			"--picture draws the finished rows: the wrong side as it lies in the hand, with every strand and catch and the numbers of the mending list, or the right side as a chart. --side alone shows the same on the terminal. --sheet puts everything on one page to keep or print.",
		examples: []string{
			"strandwise review",
			"strandwise knit --to 8 && strandwise review --side wrong --rows 5:8",
			"strandwise review --picture wrong-side.svg",
			"strandwise review --sheet review.html",
		},
		json: true,
	}, func(ctx context.Context, _ []string) error { return runReview(ctx, a, o) })
	o.addFlags(c.Flags())
	return c
}

// reviewOptions are the flags of review.
type reviewOptions struct {
	side, rows, picture, sheet, paper string
	force                             bool
}

func (o *reviewOptions) addFlags(set *pflag.FlagSet) {
	set.Var(oneOf(&o.side, "right", "wrong"), "side", "draw that side: `right|wrong` (with --picture wrong, if not given)")
	set.StringVar(&o.rows, "rows", "", "on the terminal, only these rows: `N or N:M` (default: all that are finished)")
	set.StringVar(&o.picture, "picture", "", "draw into `FILE`.svg, .png or .pdf; - is an SVG on standard output")
	set.StringVar(&o.sheet, "sheet", "", "write everything on one page, `FILE`.html")
	addPaper(set, &o.paper)
	set.BoolVar(&o.force, "force", false, "replace a file that is there")
}

func runReview(ctx context.Context, a *app, o *reviewOptions) error {
	p, r, err := a.lookBack(ctx)
	if err != nil {
		return err
	}
	if err := o.check(a, p); err != nil {
		return err
	}
	inches, err := a.inches()
	if err != nil {
		return err
	}
	if o.picture != "" || o.sheet != "" {
		return a.drawReview(ctx, p, r, o, inches)
	}
	if o.side != "" && !a.flags.json {
		from, to, err := o.rowsShown(p)
		if err != nil {
			return err
		}
		return render.FabricText(a.out, render.WorkedPart(p.Piece, r), o.fabricSide(), from, to, a.look())
	}
	return a.write(answer.NewReview(p.Piece, r, inches))
}

// check refuses what cannot be drawn or written.
func (o *reviewOptions) check(a *app, p *storedPiece) error {
	if o.rows != "" && (o.side == "" || o.picture != "") {
		return usage("--rows goes with --side on the terminal").hint("strandwise review --side wrong --rows %s", o.rows)
	}
	if ext := strings.ToLower(filepath.Ext(o.sheet)); o.sheet != "" && o.sheet != fromStdin && ext != ".html" && ext != ".htm" {
		return usage("--sheet %s: the name is to end in .html", o.sheet).hint("--sheet %s.html", o.sheet)
	}
	if one := o.picture == fromStdin; one && o.sheet == fromStdin || a.flags.json && (one || o.sheet == fromStdin) {
		return usage("two answers want standard output").hint("--picture wrong-side.svg, or --sheet review.html, to write a file")
	}
	if p.State.Row == 0 && (o.side != "" || o.picture != "" || o.sheet != "") {
		return refused("no %s of %s is finished, so there is nothing to draw", p.rowWord(), p.State.Setup.Name).
			hint("strandwise cards, for the %ss to come", p.rowWord()).hint("%s", toWork(p.round()))
	}
	return nil
}

func (o *reviewOptions) fabricSide() render.FabricSide {
	if o.side == render.RightSide.String() {
		return render.RightSide
	}
	return render.WrongSide
}

// rowsShown are the rows to show on the terminal.
func (o *reviewOptions) rowsShown(p *storedPiece) (from, to int, err error) {
	if o.rows == "" {
		return 1, p.State.Row, nil
	}
	return rowRange(o.rows, p.State.Row, p.rowWord(), "%ss 1 to %d are finished")
}

// drawReview writes the files asked for, then the answer.
func (a *app) drawReview(ctx context.Context, p *storedPiece, r *session.Review, o *reviewOptions, inches bool) error {
	picture, err := a.pictureWriter(p, r, o, inches)
	if err != nil {
		return err
	}
	if o.picture != "" {
		if err := a.writeOutput(ctx, o.picture, o.force, picture); err != nil {
			return err
		}
	}
	if o.sheet != "" {
		sheet := func(w io.Writer) error {
			page := answer.NewReview(p.Piece, r, inches).Page(render.FabricBlocks(render.WorkedPart(p.Piece, r), inches))
			paper := paperNamed(o.paper, inches)
			return document.WriteHTML(w, page, paper.Width, paper.Height)
		}
		if err := a.writeOutput(ctx, o.sheet, o.force, sheet); err != nil {
			return err
		}
	}
	switch {
	case o.picture == fromStdin || o.sheet == fromStdin:
		return nil
	case a.flags.json:
		return a.answerJSON(1, answer.NewReview(p.Piece, r, inches))
	}
	a.sayDrawn(p.State.Setup.Name, o)
	return nil
}

func (a *app) sayDrawn(piece string, o *reviewOptions) {
	if o.picture != "" {
		a.say(fmt.Sprintf("the %s side of %s is drawn in %s", o.fabricSide(), piece, o.picture), "")
	}
	if o.sheet != "" {
		a.say(fmt.Sprintf("the review of %s is in %s", piece, o.sheet), "")
	}
}

func (a *app) pictureWriter(p *storedPiece, r *session.Review, o *reviewOptions, inches bool) (func(io.Writer) error, error) {
	look := render.PictureLook{Side: o.fabricSide(), Inches: inches}
	knitted := func() *render.Knitted { return render.WorkedPart(p.Piece, r) }
	switch ext := strings.ToLower(filepath.Ext(o.picture)); {
	case o.picture == "":
		return nil, nil
	case ext == ".svg" || o.picture == fromStdin:
		return func(w io.Writer) error { return render.SceneSVG(w, render.Picture(knitted(), look)) }, nil
	case ext == ".png":
		return func(w io.Writer) error { return render.ScenePNG(w, render.Picture(knitted(), look)) }, nil
	case ext == ".pdf":
		paper := paperNamed(o.paper, inches)
		return func(w io.Writer) error {
			return render.ScenePDF(w, p.State.Setup.Name, render.PicturePages(knitted(), look, paper), paper)
		}, nil
	}
	return nil, usage("--picture %s: the name is to end in .svg, .png or .pdf", o.picture).hint("--picture %s.svg", o.picture)
}

// lookBack takes the current piece and reviews it, beside the first of its pair
// where that is in the store.
func (a *app) lookBack(ctx context.Context) (*storedPiece, *session.Review, error) {
	p, err := a.takeWhole(ctx)
	if err != nil {
		return nil, nil, err
	}
	return p, p.Review(p.first), nil
}

// inches reports whether lengths are told in inches.
func (a *app) inches() (bool, error) {
	units, err := a.settings.get("units")
	return units.text == "inches", err
}
