package cmd

import (
	"context"
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
	c := a.Leaf(frame.Spec{
		Use:   "floats FILE",
		Short: "list the floats of a chart and plan where to catch them",
		Long: "Shows what a chart asks of the yarns before it is knitted: floats by length against the limit, the rows that need catches and where, rows where catches stack, rows of three yarns, floats over the start of the round, yarns at rest, and floats better worked another way. --picture draws the wrong side with these catches.\n\n" +
			"FILE is a chart file, or - for standard input. With --json all floats and catches are listed, in every repeat.",
		Examples: []string{
			"strandwise floats example:lantern-band --repeats 4 --gauge 20x22/4in",
			"strandwise floats example:pier-panel --flat --limit 5 --json",
			"strandwise floats example:night-sea --picture planned.svg",
		},
		Least: 1, Most: 1, JSON: true,
	}, func(ctx context.Context, args []string) error { return runFloats(ctx, a, o, args[0]) })
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

func runFloats(ctx context.Context, a *frame.App, o *floatsOptions, name string) error {
	if a.Flags.JSON && o.picture == frame.FromStdin {
		return frame.Usage("two answers want standard output").Hint("--picture planned.svg, to write a file")
	}
	l, err := o.read(a, ctx, name)
	if err != nil {
		return err
	}
	plan, err := stored.Planned(a, ctx, l.fabric, l.task)
	if err != nil {
		return err
	}
	if o.picture != "" {
		if err := drawPlan(ctx, a, o, l, plan); err != nil || o.picture == frame.FromStdin {
			return err
		}
	}
	of := answer.FloatsOf{
		Name: l.name(), Chart: l.chart, Fabric: l.fabric, Gauge: l.gauge, From: l.from, RestLimit: l.task.RestLimit, Plan: plan,
	}
	if !a.Flags.JSON {
		of.Survey = l.fabric.Survey(plan, l.task.RestLimit)
		if of.Reliefs, err = l.fabric.Relieve(ctx, l.task, of.Survey.Stacks); err != nil {
			return err
		}
	}
	return write(a, 1, answer.NewFloats(of))
}

// drawPlan draws the wrong side of a trial as it is planned.
func drawPlan(ctx context.Context, a *frame.App, o *floatsOptions, l *laid, plan *floats.Plan) error {
	inches, err := inches(a)
	if err != nil {
		return err
	}
	p, err := session.Uncast(o.asCastOn(l), l.chart, plan)
	if err != nil {
		return err
	}
	knitted := func() *draw.Knitted { return draw.WithRowsToCome(p, p.Rows(), nil) }
	picture, err := fabricWriter(o.picture, knitted, draw.Options{Side: draw.WrongSide, Inches: inches}, paperNamed("", inches))
	if err != nil {
		return err
	}
	if err := a.WriteOutput(ctx, o.picture, o.force, picture); err != nil {
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
