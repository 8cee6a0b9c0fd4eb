package cmd

import (
	"context"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

// showOptions are the flags of show.
type showOptions struct {
	row  int
	more bool
}

func newShow(a *frame.App) *cobra.Command {
	o := &showOptions{}
	c := a.Leaf(frame.Spec{
		Use:   "show",
		Short: "print the row to work now",
		Long: "Prints the row to work now. The first line is the whole row for a glance: how often it is worked, then its runs in knitting order. In brackets stand the stitches before, between and after the catches of a run, which have letters; repeats with other catches have a line of their own. Below it stand the row's place, where the yarns sit when that changes, the row and the row below as the chart shows them, and the motion of the catch.\n\n" +
			"A star marks a catch that is not where the plan had it, because the row below was caught otherwise. A finished row shows the catches that were made. Nothing is logged.",
		Examples: []string{
			"strandwise show",
			"strandwise show --row 3 --more",
		},
		JSON: true,
	}, func(ctx context.Context, _ []string) error { return runShow(ctx, a, o) })
	set := c.Flags()
	set.IntVar(&o.row, "row", 0, "show row `N` instead, worked or to come")
	set.BoolVar(&o.more, "more", false, "every motion step by step, why a catch was moved, and where every yarn sits")
	a.RenamedFlags(set, map[string]string{"steps": "more", "why": "more", "seats": "more"})
	return c
}

func runShow(ctx context.Context, a *frame.App, o *showOptions) error {
	p, err := stored.Take(a, ctx)
	if err != nil {
		return err
	}
	row := o.row
	if row == 0 {
		if row = p.State.Next(); row == 0 {
			return finished(p.State)
		}
	}
	if row < 1 || row > p.Rows() {
		return frame.Usage("--row takes a whole number from 1 to %d, the last %s of %s, not %d", p.Rows(), p.RowWord(), p.State.Setup.Name, row).
			Hint("--row %d", min(max(1, p.State.Row+1), p.Rows()))
	}
	s := p.Sheet(row)
	if !a.Flags.JSON && justCastOn(p) {
		s.Cautions = nil // the cast-on has told them just above
	}
	options := answer.RowOptions{Steps: o.more, Why: o.more, YarnPlaces: o.more, Alike: document.Alike(look(a), s.Worked())}
	if err := write(a, 2, answer.NewRow(s, options)); err != nil {
		return err
	}
	if o.more && row > p.State.Row && len(s.Reasons) == 0 {
		a.Say("no catch is moved: all are where the plan has them", "")
	}
	return nil
}

// finished is the error where no row is left to work.
func finished(s *session.State) error {
	return s.Check(&session.RowKnit{Row: s.Row + 1})
}
