package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

type castOnOptions struct {
	trial // but for its method, repeats and times
	grip  gripFlags

	mirrorGiven func() bool
}

func newCastOn(a *frame.App) *cobra.Command {
	o := &castOnOptions{trial: *newTrial()}
	c := a.Leaf(frame.Spec{Use: "cast-on NAME PART...", Writes: true, JSON: true}, o.run)
	set := c.Flags()
	o.addSize(set)
	o.grip.add(set)
	set.BoolVar(&o.Mirror, "mirror", false, "you work from the right needle to the left (default: the setting, else no)")
	set.IntVar(&o.RestLimit, "rest", o.RestLimit, "`ROWS` a yarn may rest without being cut")
	o.mirrorGiven = func() bool { return set.Changed("mirror") }
	return c
}

func (o *castOnOptions) run(a *frame.App, args []string) error {
	parts, err := stored.ReadParts(a, args[1:])
	if err != nil {
		return err
	}
	event, err := o.event(a, args[0], parts)
	if err != nil {
		return err
	}
	more, err := lowerFor(a, o.grip.Lower, event.Grip.Hands(event.Mirror))
	if err != nil {
		return err
	}
	begun, err := stored.CastOn(a, event, parts, more)
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewCastOn(begun.Piece, answer.CastOnOptions{LimitFrom: o.from, FirstEver: begun.FirstEver, Alike: document.Alike(a.Display(), begun.Layout.Fabric.Yarns)}))
}

func (o *castOnOptions) event(a *frame.App, name string, parts stored.Parts) (e *session.CastOn, err error) {
	if err := o.settle(); err != nil {
		return nil, err
	}
	e = &o.CastOn
	if !o.mirrorGiven() {
		e.Mirror = a.Settings.Yes("mirror")
	}
	if e.Grip, err = gripFor(a, o.grip, parts.Yarns()); err != nil {
		return nil, err
	}
	e.Name, e.Parts = name, parts.Refs
	return e, (&session.State{}).Check(e)
}
