package cmd

import (
	"cmp"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

type showOptions struct {
	row  int
	more bool
}

func newShow(a *frame.App) *cobra.Command {
	o := &showOptions{}
	c := a.Leaf(frame.Spec{Use: "show", JSON: true}, withTaken(stored.Take, o.run))
	set := c.Flags()
	set.IntVar(&o.row, "row", 0, "show row `N` instead, worked or to come")
	set.BoolVar(&o.more, "more", false, "every motion step by step, why a catch was moved, and where every yarn sits")
	return c
}

func (o *showOptions) run(a *frame.App, p *stored.Piece, _ []string) error {
	row := cmp.Or(o.row, p.State.Next())
	if row == 0 {
		return p.State.Check(&session.RowKnit{Row: p.State.Row + 1}) // says that no row is left
	}
	if row < 1 || row > p.Rows() {
		return frame.Usage("--row takes a whole number from 1 to %d, the last %s of %s, not %d", p.Rows(), p.RowWord(), p.State.Setup.Name, row).
			Hint("--row %d", min(max(1, p.State.Row+1), p.Rows()))
	}
	s := p.Sheet(row)
	if log := p.State.History(); !a.Flags.JSON && log[len(log)-1].Seq == log[0].Seq {
		s.Cautions = nil // the cast-on has told them just above
	}
	options := answer.RowOptions{Steps: o.more, Why: o.more, YarnPlaces: o.more, Alike: document.Alike(a.Display(), s.Worked())}
	if err := a.Answer(2, answer.NewRow(s, options)); err != nil {
		return err
	}
	if o.more && row > p.State.Row && len(s.Reasons) == 0 {
		a.Say("no catch is moved: all are where the plan has them", "")
	}
	return nil
}

func newResume(a *frame.App) *cobra.Command {
	run := func(a *frame.App, p *stored.Piece, _ []string) error {
		return a.Answer(2, answer.NewStanding(p.Piece, a.Env.Now()))
	}
	return a.Leaf(frame.Spec{Use: "resume", JSON: true}, withTaken(stored.TakeUp, run))
}

func newLocate(a *frame.App) *cobra.Command {
	below := ""
	run := func(a *frame.App, p *stored.Piece, args []string) error {
		runs, err := p.ParseReading(strings.Join(args, " "))
		var under []session.ReadRun
		if err == nil && below != "" {
			under, err = p.ParseReading(below)
		}
		if err != nil {
			return err
		}
		return a.Answer(1, answer.NewLocated(p.Piece, p.Locate(runs, under), below != ""))
	}
	c := a.Leaf(frame.Spec{Use: "locate RUNS...", JSON: true}, withTaken(stored.Take, run))
	c.Flags().StringVar(&below, "below", "", "`RUNS` of the row below it, to tell rows apart that are alike")
	return c
}
