package cmd

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"strandwise/cmd/document"
	"strandwise/cmd/follow"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

type followOptions struct {
	by         string
	page, home bool
	port       int
}

func newFollow(a *frame.App) *cobra.Command {
	o := &followOptions{by: string(follow.ByRow)}
	c := a.Leaf(frame.Spec{Use: "follow", Writes: true}, o.run)
	c.Flags().Var(frame.OneOf(&o.by, string(follow.ByRow), string(follow.ByRepeat), string(follow.ByRun)), "by", "what one press moves on by: `row|repeat|run`")
	c.Flags().BoolVar(&o.page, "page", false, "show it in a browser on this computer instead")
	c.Flags().BoolVar(&o.home, "home", false, "with --page: also to devices on the home network")
	c.Flags().IntVar(&o.port, "port", 0, "with --page: the `number` of the port; 0 is any free one")
	return c
}

func (o *followOptions) run(a *frame.App, _ []string) error {
	if !o.page && (o.home || o.port != 0) {
		return frame.Usage("--home and --port go with --page").Hint("strandwise follow --page")
	}
	if o.port < 0 || o.port > 65535 {
		return frame.Usage("--port %d: ports are numbered 1 to 65535", o.port).Hint("strandwise follow --page, at any free port")
	}
	p, err := stored.Take(a)
	if err != nil {
		return err
	}
	a.Sitting = uint64(p.ID)
	options := follow.Options{By: follow.By(o.by), Pause: time.Duration(a.Settings.Number("pause")) * time.Minute, Page: o.page}
	if o.page {
		return followPage(a, o, options)
	}
	keys := a.Env.Raw != nil && a.Env.InTTY && a.Env.OutTTY // can be read and answered one by one
	options.Lines = !keys
	f := &follower{a: a}
	f.s = follow.New(p.Piece, options, a.Env.Now())
	if keys {
		err = f.followKeys()
	} else {
		err = f.followLines()
	}
	if err != nil {
		return err
	}
	sayWhere(a, f.s)
	return nil
}

func sayWhere(a *frame.App, s follow.State) {
	p := s.Piece()
	word := session.RowWord(!p.Layout.Fabric.Flat)
	did := fmt.Sprintf(": %d of %d %ss worked", p.State.Row, p.Rows(), word)
	if s.Rows() > 0 {
		did += fmt.Sprintf(", %d in this sitting", s.Rows())
	}
	next := "to go on: strandwise follow"
	if p.State.Begun > 0 {
		next += fmt.Sprintf(", in %s %d after stitch %d", word, p.State.Row+1, p.State.Begun)
	}
	if p.State.Next() == 0 && !p.State.BoundOff {
		next = "next: strandwise bind-off"
	}
	a.Did(document.Named(p.State.Setup.Name, did), "")
	if kept := s.Kept(); kept.Words != "" {
		a.Say(fmt.Sprintf("saved as note %d: %s", len(p.State.Notes), kept.Words),
			fmt.Sprintf("once the %s is knitted, strandwise knit %s logs it", word, kept.Flags))
	}
	a.Say("", next)
}
