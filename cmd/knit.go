package cmd

import (
	"context"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

// knitOptions are the flags of knit.
type knitOptions struct {
	session.Otherwise
	row, to int

	given func(flag string) bool
}

func newKnit(a *frame.App) *cobra.Command {
	o := &knitOptions{}
	c := a.Leaf(frame.Spec{
		Use:   "knit",
		Short: "log the row just worked and print the next",
		Long: "Logs the row to work as finished and prints the next. Whatever is not named was done as the sheet shows.\n\n" +
			"Catches are named by their letters on the sheet: a+1 is catch a made one stitch later than planned, a-2 two earlier, in knitting order. An extra catch has no letter and goes by its stitch in the repeat, as the ruler under the strip counts; x:9 means yarn x where two are carried. Each holds for every repeat that has the catch; b@3 means repeat 3 only. In a row of blocks the number of the block stands before an extra stitch: 2/9@3. Lists have commas.\n\n" +
			"A strand left too long is told at once. Where the row below was caught otherwise, the next row's catches are chosen to fit.",
		Examples: []string{
			"strandwise knit --row 1",
			"strandwise knit --to 4",
			"strandwise knit --moved a-1",
		},
		Writes: true, JSON: true,
	}, func(ctx context.Context, _ []string) error { return runKnit(ctx, a, o) })
	set := c.Flags()
	o.addDeviations(set)
	set.IntVar(&o.row, "row", 0, "log only if row `N` is the row to work")
	set.IntVar(&o.to, "to", 0, "log all rows up to `N` as already knitted")
	return c
}

// addDeviations adds the flags of what was done otherwise.
func (o *knitOptions) addDeviations(set *pflag.FlagSet) {
	o.given = set.Changed
	set.StringVar(&o.Moved, "moved", "", "catches made earlier or later than planned: `a+1,b-2@3`")
	set.StringVar(&o.Missed, "missed", "", "catches planned and not made: `a,b@3`")
	set.StringVar(&o.Extra, "extra", "", "catches made and not planned, by their stitch: `9,x:15@3` (2/9 in block 2 of a row of blocks)")
}

func runKnit(ctx context.Context, a *frame.App, o *knitOptions) error {
	if o.given("to") && (o.given("row") || o.Otherwise != session.Otherwise{}) {
		return frame.Usage("--to logs rows as planned and goes with no other flag").Hint("strandwise knit --to %d, then strandwise knit with the other flags", o.to)
	}
	if err := o.check(); err != nil {
		return err
	}
	from := 0
	p, err := stored.Change(a, ctx, func(p *stored.Piece) ([]session.Event, error) {
		from = p.State.Row + 1
		if o.given("to") {
			return rowsTo(p, o.to)
		}
		return knitted(p, o)
	})
	if err != nil {
		return err
	}
	return write(a, 2, answer.NewLogged(p.Piece, from, p.State.Row))
}

// check refuses an empty list, which would log the row as planned: a script may have meant
// to put a catch there.
func (o *knitOptions) check() error {
	for _, list := range []struct{ flag, given, like string }{
		{"moved", o.Moved, "a+1"}, {"missed", o.Missed, "a"}, {"extra", o.Extra, "9"},
	} {
		if o.given(list.flag) && strings.TrimSpace(list.given) == "" {
			return frame.Usage("--%s names no catch", list.flag).Hint("--%s %s", list.flag, list.like).Hint("strandwise knit, where all was done as planned")
		}
	}
	return nil
}

// knitted makes the event of one row.
func knitted(p *stored.Piece, o *knitOptions) ([]session.Event, error) {
	row := p.State.Row + 1
	if o.given("row") {
		if row = o.row; row > p.Rows() {
			return nil, frame.Usage("--row takes a %s from 1 to %d, the last of %s, not %d", p.RowWord(), p.Rows(), p.State.Setup.Name, row).Hint("strandwise show, for the %s to work now", p.RowWord())
		}
	}
	if err := p.State.Check(&session.RowKnit{Row: row}); err != nil {
		return nil, err
	}
	changes, err := p.Otherwise(o.Otherwise)
	if err != nil {
		return nil, err
	}
	return []session.Event{p.Knit(changes)}, nil
}

// rowsTo makes the events of rows knitted without the program.
func rowsTo(p *stored.Piece, to int) ([]session.Event, error) {
	row := p.State.Row + 1
	if err := p.State.Check(&session.RowKnit{Row: row}); err != nil {
		return nil, err
	}
	if to < 1 || to > p.Rows() {
		return nil, frame.Usage("--to takes a %s from 1 to %d, the last of %s, not %d", p.RowWord(), p.Rows(), p.State.Setup.Name, to).Hint("--to %d", p.Rows())
	}
	if to < row {
		return nil, p.State.Check(&session.RowKnit{Row: to})
	}
	return p.KnitTo(to), nil
}
