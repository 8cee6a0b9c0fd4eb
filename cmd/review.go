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
	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newReview(a *frame.App) *cobra.Command {
	o := &reviewOptions{}
	c := a.Leaf(frame.Spec{
		Use:   "review",
		Short: "look back: catches, gaps to mend, pictures, time",
		Long: "Looks back on the piece, finished or under way: catches planned and made, where they stack, the longest gap of each yarn, what to mend and in what order, and the time it took, sitting by sitting. The second of a pair is set beside the first.\n\n" +
			"--picture draws the finished rows: the wrong side as it lies in the hand, with every strand and catch and the numbers of the mending list, or the right side as a chart. --rows and --repeats draw a part of it; rows to come are drawn as they are planned. --side alone shows the same on the terminal. --sheet puts everything on one page to keep or print.",
		Examples: []string{
			"strandwise review",
			"strandwise knit --to 8 && strandwise review --side wrong --rows 5:8",
			"strandwise review --picture wrong-side.svg",
			"strandwise review --picture to-come.svg --rows 9:16 --repeats 2:3",
			"strandwise review --sheet review.html",
		},
		JSON: true,
	}, func(ctx context.Context, _ []string) error { return runReview(ctx, a, o) })
	o.addFlags(c.Flags())
	return c
}

// reviewOptions are the flags of review.
type reviewOptions struct {
	side, rows, repeats, picture, sheet, paper string
	force                                      bool
}

func (o *reviewOptions) addFlags(set *pflag.FlagSet) {
	set.Var(frame.OneOf(&o.side, "right", "wrong"), "side", "draw that side: `right|wrong` (with --picture wrong, if not given)")
	set.StringVar(&o.rows, "rows", "", "draw only these rows: `N or N:M` (default: all that are finished)")
	set.StringVar(&o.repeats, "repeats", "", "with --picture, only these repeats, of the widest block: `N or N:M`")
	set.StringVar(&o.picture, "picture", "", "draw into `FILE`.svg, .png or .pdf; - is an SVG on standard output")
	set.StringVar(&o.sheet, "sheet", "", "write everything on one page, `FILE`.html")
	addPaper(set, &o.paper)
	set.BoolVar(&o.force, "force", false, "replace a file that is there")
}

func runReview(ctx context.Context, a *frame.App, o *reviewOptions) error {
	p, r, err := lookBack(a, ctx)
	if err != nil {
		return err
	}
	if err := o.check(a, p); err != nil {
		return err
	}
	inches, err := inches(a)
	if err != nil {
		return err
	}
	if o.picture != "" || o.sheet != "" {
		return drawReview(a, ctx, p, r, o, inches)
	}
	if o.side != "" && !a.Flags.JSON {
		from, to, err := o.rowsShown(p)
		if err != nil {
			return err
		}
		return draw.FabricText(a.Out, draw.WorkedPart(p.Piece, r), o.fabricSide(), from, to, look(a))
	}
	return write(a, 2, answer.NewReview(p.Piece, r, inches))
}

// check refuses what cannot be drawn or written.
func (o *reviewOptions) check(a *frame.App, p *stored.Piece) error {
	if o.rows != "" && o.side == "" && o.picture == "" {
		return frame.Usage("--rows goes with --side or --picture").Hint("strandwise review --side wrong --rows %s", o.rows)
	}
	if o.repeats != "" && o.picture == "" {
		return frame.Usage("--repeats goes with --picture").Hint("strandwise review --picture wrong-side.svg --repeats %s", o.repeats)
	}
	if ext := strings.ToLower(filepath.Ext(o.sheet)); o.sheet != "" && o.sheet != frame.FromStdin && ext != ".html" && ext != ".htm" {
		return frame.Usage("--sheet %s: the name is to end in .html", o.sheet).Hint("--sheet %s.html", o.sheet)
	}
	if one := o.picture == frame.FromStdin; one && o.sheet == frame.FromStdin || a.Flags.JSON && (one || o.sheet == frame.FromStdin) {
		return frame.Usage("two answers want standard output").Hint("--picture wrong-side.svg, or --sheet review.html, to write a file")
	}
	toCome := o.picture != "" && o.rows != "" && o.sheet == ""
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

// rowsShown are the rows to show on the terminal.
func (o *reviewOptions) rowsShown(p *stored.Piece) (from, to int, err error) {
	if o.rows == "" {
		return 1, p.State.Row, nil
	}
	return rowRange("rows", o.rows, p.State.Row, p.RowWord(), "%ss 1 to %d are finished")
}

// shown is what the picture is to show: the finished rows, or the part asked for, of rows to come
// as they are planned.
func (o *reviewOptions) shown(p *stored.Piece, r *session.Review) (*draw.Knitted, error) {
	if o.picture == "" {
		return nil, nil
	}
	from, to, err := 1, p.State.Row, error(nil)
	if o.rows != "" {
		if from, to, err = rowRange("rows", o.rows, p.Rows(), p.RowWord(), "the piece has %ss 1 to %d"); err != nil {
			return nil, err
		}
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

// drawReview writes the files asked for, then the answer.
func drawReview(a *frame.App, ctx context.Context, p *stored.Piece, r *session.Review, o *reviewOptions, inches bool) error {
	k, err := o.shown(p, r)
	if err != nil {
		return err
	}
	look, paper := draw.Options{Side: o.fabricSide(), Inches: inches}, paperNamed(o.paper, inches)
	picture, err := fabricWriter(o.picture, func() *draw.Knitted { return k }, look, paper)
	if err != nil {
		return err
	}
	if o.picture != "" {
		if err := a.WriteOutput(ctx, o.picture, o.force, picture); err != nil {
			return err
		}
	}
	if o.sheet != "" {
		sheet := func(w io.Writer) error {
			page := answer.NewReview(p.Piece, r, inches).Page()
			return document.WriteHTML(w, page, paper)
		}
		if err := a.WriteOutput(ctx, o.sheet, o.force, sheet); err != nil {
			return err
		}
	}
	switch {
	case o.picture == frame.FromStdin || o.sheet == frame.FromStdin:
		return nil
	case a.Flags.JSON:
		return a.AnswerJSON(2, answer.NewReview(p.Piece, r, inches))
	}
	sayDrawn(a, p.State.Setup.Name, o)
	return nil
}

func sayDrawn(a *frame.App, piece string, o *reviewOptions) {
	if o.picture != "" {
		a.Say(fmt.Sprintf("the %s side of %s is drawn in %s", o.fabricSide(), piece, o.picture), "")
	}
	if o.sheet != "" {
		a.Say(fmt.Sprintf("wrote %s: the review of %s", o.sheet, piece), "")
	}
}

// lookBack takes the current piece and reviews it, beside the first of its pair
// where that is in the store.
func lookBack(a *frame.App, ctx context.Context) (*stored.Piece, *session.Review, error) {
	p, err := stored.TakeWhole(a, ctx)
	if err != nil {
		return nil, nil, err
	}
	return p, p.Review(p.First), nil
}

// inches reports whether lengths are told in inches.
func inches(a *frame.App) (bool, error) {
	units, err := a.Settings.Get("units")
	return units.Text == "inches", err
}
