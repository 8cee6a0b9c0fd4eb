package cmd

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/draw"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
)

func newFloats(a *frame.App) *cobra.Command {
	o := &floatsOptions{trial: newTrial()}
	c := a.Leaf(frame.Spec{Use: "floats FILE", JSON: true}, o.run)
	o.addFlags(c)
	o.picture.add(c.Flags(), "picture", "", "draw the wrong side as planned into `FILE`.svg, .png or .pdf; - is an SVG on standard output", pictureKinds...)
	addForce(c.Flags(), &o.force)
	return c
}

// floatsOptions are the flags of floats.
type floatsOptions struct {
	*trial
	picture outFile
	force   bool
}

func (o *floatsOptions) run(a *frame.App, args []string) error {
	l, err := o.read(a, args[0])
	if err != nil {
		return err
	}
	plan, err := stored.Planned(a, l.fabric, l.task)
	if err != nil {
		return err
	}
	if o.picture.asked() {
		if err := o.draw(a, l, plan); err != nil || o.picture.isAnswer() {
			return err
		}
	}
	of := answer.FloatsOf{
		Name: o.Name, Chart: l.chart, Fabric: l.fabric, Gauge: o.gauge, From: l.from, RestLimit: l.task.RestLimit, Plan: plan,
	}
	if !a.Flags.JSON {
		of.Survey = l.fabric.Survey(plan, l.task.RestLimit)
		if of.Reliefs, err = l.fabric.Relieve(a.Context(), l.task, of.Survey.Stacks); err != nil {
			return err
		}
	}
	return a.Answer(1, answer.NewFloats(of))
}

// draw draws the wrong side of a trial as it is planned.
func (o *floatsOptions) draw(a *frame.App, l *laid, plan *floats.Plan) error {
	inches := inches(a)
	p, err := session.Uncast(&o.CastOn, l.chart, plan)
	if err != nil {
		return err
	}
	knitted, options := draw.WithRowsToCome(p, p.Rows(), nil), draw.Options{Side: draw.WrongSide, Inches: inches}
	said := fmt.Sprintf("the wrong side of %s as planned is drawn in %s", o.Name, o.picture.name)
	return o.picture.write(a, o.force, said, func(w io.Writer) error {
		return fabricDrawn(w, o.picture.kind(), knitted, options, paperNamed("", inches))
	})
}
