package cmd

import (
	"fmt"

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
	c := a.Leaf(frame.Spec{Use: "floats FILE", Least: 1, Most: 1, JSON: true}, o.run)
	o.addFlags(c)
	c.Flags().StringVar(&o.picture, "picture", "", "draw the wrong side as planned into `FILE`.svg, .png or .pdf; - is an SVG on standard output")
	c.Flags().BoolVar(&o.force, "force", false, "replace a file that is there")
	return c
}

// floatsOptions are the flags of floats.
type floatsOptions struct {
	*trial
	picture string
	force   bool
}

func (o *floatsOptions) run(a *frame.App, args []string) error {
	if a.Flags.JSON && o.picture == frame.FromStdin {
		return frame.Usage("two answers want standard output").Hint("--picture planned.svg, to write a file")
	}
	l, err := o.read(a, args[0])
	if err != nil {
		return err
	}
	plan, err := stored.Planned(a, l.fabric, l.task)
	if err != nil {
		return err
	}
	if o.picture != "" {
		if err := drawPlan(a, o, l, plan); err != nil || o.picture == frame.FromStdin {
			return err
		}
	}
	of := answer.FloatsOf{
		Name: l.name(), Chart: l.chart, Fabric: l.fabric, Gauge: l.gauge, From: l.from, RestLimit: l.task.RestLimit, Plan: plan,
	}
	if !a.Flags.JSON {
		of.Survey = l.fabric.Survey(plan, l.task.RestLimit)
		if of.Reliefs, err = l.fabric.Relieve(a.Context(), l.task, of.Survey.Stacks); err != nil {
			return err
		}
	}
	return a.Answer(1, answer.NewFloats(of))
}

// drawPlan draws the wrong side of a trial as it is planned.
func drawPlan(a *frame.App, o *floatsOptions, l *laid, plan *floats.Plan) error {
	inches, err := inches(a)
	if err != nil {
		return err
	}
	p, err := session.Uncast(o.asCastOn(l), l.chart, plan)
	if err != nil {
		return err
	}
	knitted := func() *draw.Knitted { return draw.WithRowsToCome(p, p.Rows(), nil) }
	picture, err := pictureWriter(o.picture, knitted, draw.Options{Side: draw.WrongSide, Inches: inches}, paperNamed("", inches))
	if err != nil {
		return err
	}
	if err := a.WriteOutput(o.picture, o.force, picture); err != nil {
		return err
	}
	if o.picture != frame.FromStdin && !a.Flags.JSON {
		a.Say(fmt.Sprintf("the wrong side of %s as planned is drawn in %s", l.name(), o.picture), "")
	}
	return nil
}

// asCastOn is the trial as a piece would be cast on with it.
func (o *floatsOptions) asCastOn(l *laid) *session.CastOn {
	return &session.CastOn{
		Name:  l.name(),
		Parts: []session.PartRef{{Name: stored.ChartName(l.title), Repeats: o.repeats, Times: o.times, Rows: l.chart.Height()}},
		Gauge: l.gauge.String(), Limit: l.task.Limit, Flat: o.flat, Mirror: o.mirror, RestLimit: o.rest,
		Grip: session.Grip{Method: o.method},
	}
}
