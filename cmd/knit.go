package cmd

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

type knitOptions struct {
	session.Otherwise
	row, to int

	given func(flag string) bool
}

func newKnit(a *frame.App) *cobra.Command {
	o := &knitOptions{}
	c := a.Leaf(frame.Spec{Use: "knit", Writes: true, JSON: true}, o.run)
	set := c.Flags()
	o.addDeviations(set)
	set.IntVar(&o.row, "row", 0, "log only if row `N` is the row to work")
	set.IntVar(&o.to, "to", 0, "log all rows up to `N` as already knitted")
	return c
}

func (o *knitOptions) addDeviations(set *pflag.FlagSet) {
	o.given = set.Changed
	set.StringVar(&o.Moved, "moved", "", "catches made earlier or later than planned: `a+1,b-2@3`")
	set.StringVar(&o.Missed, "missed", "", "catches planned and not made: `a,b@3`")
	set.StringVar(&o.Extra, "extra", "", "catches made and not planned, by their stitch: `9,x:15@3` (2/9 in block 2 of a row of blocks)")
}

func (o *knitOptions) run(a *frame.App, _ []string) error {
	if o.given("to") && (o.given("row") || o.Otherwise != session.Otherwise{}) {
		return frame.Usage("--to logs rows as planned and goes with no other flag").Hint("strandwise knit --to %d, then strandwise knit with the other flags", o.to)
	}
	if err := o.check(); err != nil {
		return err
	}
	from := 0
	return logAndTell(a, func(p *stored.Piece) ([]session.Event, error) {
		from = p.State.Row + 1
		if o.given("to") {
			return rowsTo(p, o.to)
		}
		return knitted(p, o)
	}, func(p *stored.Piece) *answer.Logged { return answer.NewLogged(p.Piece, from, p.State.Row) })
}

// logAndTell logs what decide makes of the piece, and answers with what is told of it then.
func logAndTell[A interface{ Document() document.Document }](
	a *frame.App, decide func(*stored.Piece) ([]session.Event, error), told func(*stored.Piece) A,
) error {
	p, err := stored.Change(a, decide)
	if err != nil {
		return err
	}
	return a.Answer(2, told(p))
}

func standing(p *stored.Piece) *answer.Placed { return answer.NewPlaced(p.Piece) }

// check refuses an empty list, which would log the row as planned: perhaps a catch was meant.
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

func newCorrect(a *frame.App) *cobra.Command {
	o := &knitOptions{}
	c := a.Leaf(frame.Spec{Use: "correct ROW", Writes: true, JSON: true}, o.runCorrect)
	o.addDeviations(c.Flags())
	return c
}

func (o *knitOptions) runCorrect(a *frame.App, args []string) error {
	row, err := strconv.Atoi(args[0])
	if err != nil || row < 1 {
		return frame.Usage("correct takes the number of a finished row, not %q", args[0]).Hint("strandwise correct 5 --missed a")
	}
	if err := o.check(); err != nil {
		return err
	}
	if o.Otherwise == (session.Otherwise{}) {
		return frame.Usage("correct says what was otherwise").Hint("strandwise correct %d --missed a, --moved a+1 or --extra 9", row).Hint("strandwise show --row %d, for its letters", row)
	}
	return logAndTell(a, func(p *stored.Piece) ([]session.Event, error) {
		e, err := p.Corrected(row, o.Otherwise)
		return []session.Event{e}, err
	}, func(p *stored.Piece) *answer.Logged { return answer.NewCorrected(p.Piece, row) })
}

func newPause(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{Use: "pause STITCH", Writes: true, JSON: true}, runPause)
}

func runPause(a *frame.App, args []string) error {
	return logAndTell(a, func(p *stored.Piece) ([]session.Event, error) {
		if err := p.State.Check(&session.Paused{}); err != nil {
			return nil, err
		}
		stitch, err := p.ParsePlace(args[0])
		if err != nil {
			return nil, err
		}
		return []session.Event{p.Pause(stitch)}, nil
	}, standing)
}

func newBindOff(a *frame.App) *cobra.Command {
	bindOff := func(*stored.Piece) ([]session.Event, error) { return []session.Event{&session.BoundOff{}}, nil }
	run := func(a *frame.App, _ []string) error { return logAndTell(a, bindOff, standing) }
	return a.Leaf(frame.Spec{Use: "bind-off", Aliases: []string{"cast-off"}, Writes: true, JSON: true}, run)
}
