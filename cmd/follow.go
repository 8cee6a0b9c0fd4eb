package cmd

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"strandwise/cmd/follow"
	"strandwise/session"
)

// followOptions are the flags of follow.
type followOptions struct{ by string }

// The words of --by.
const (
	byRow = "row"
	byRun = "run"
)

func newFollow(a *app) *cobra.Command {
	o := &followOptions{by: byRow}
	c := a.leaf(spec{
		use:   "follow",
		short: "sit down and knit row after row by single keys",
		long: "Shows the row to work and goes on with it as you knit: space, enter, the right arrow or page down, which a page-turning pedal sends, log the row and show the next. The left arrow, page up and backspace only look back; u undoes. A second press within two seconds of a new row logs nothing and says so. The key ? lists all keys.\n\n" +
			"Each row is saved when its key is pressed. By run, each press shows the next run of stitches, large, and the last one logs the row. Leaving keeps your place in the row.\n\n" +
			"Where input or output is no terminal, follow reads lines instead: next, back, undo, moved 15:16, missed 15, note TEXT, quit; the line words lists them. The setting pause says after how many minutes of knitting to remind you to pause.",
		examples: []string{
			"strandwise follow",
			"strandwise follow --by run",
		},
		writes: true,
	}, func(ctx context.Context, _ []string) error { return runFollow(ctx, a, o) })
	c.Flags().Var(oneOf(&o.by, byRow, byRun), "by", "what one press moves on by: `row|run`")
	return c
}

func runFollow(ctx context.Context, a *app, o *followOptions) error {
	pause, err := a.settings.number("pause")
	if err != nil {
		return err
	}
	p, err := a.take(ctx)
	if err != nil {
		return err
	}
	f := &follower{a: a, ctx: ctx}
	options := follow.Options{Pause: time.Duration(pause) * time.Minute, Lines: !a.byKeys()}
	if o.by == byRun {
		options.By = follow.ByRun
	}
	f.s = follow.New(p.Piece, options, a.env.Now())
	if options.Lines {
		err = f.followLines()
	} else {
		err = f.followKeys()
	}
	if err != nil {
		return err
	}
	a.sayWhere(f.s)
	return nil
}

// byKeys reports whether single keys can be read and answered.
func (a *app) byKeys() bool { return a.env.Raw != nil && a.env.InTTY && a.env.OutTTY }

// sayWhere tells, after a sitting, where the piece stands.
func (a *app) sayWhere(s follow.State) {
	p := s.Piece()
	word := wordForRow(p)
	did := fmt.Sprintf("%s: %d of %d %ss worked", p.State.Setup.Name, p.State.Row, p.Rows(), word)
	if s.Rows() > 0 {
		did += fmt.Sprintf(", %d in this sitting", s.Rows())
	}
	next := "next: strandwise follow goes on"
	if p.State.Begun > 0 {
		next += fmt.Sprintf(", in %s %d after stitch %d", word, p.State.Row+1, p.State.Begun)
	}
	if p.State.Next() == 0 && !p.State.BoundOff {
		next = "next: strandwise bind-off"
	}
	a.say(did, "")
	if kept := s.Kept(); kept.Words != "" {
		a.say(fmt.Sprintf("kept as note %d: %s", p.State.Notes[len(p.State.Notes)-1].Seq, kept.Words),
			fmt.Sprintf("once the %s is knitted, strandwise knit %s logs it", word, kept.Flags))
	}
	a.say("", next)
}

func wordForRow(p *session.Piece) string { return session.RowWord(!p.Layout.Fabric.Flat) }
