package cmd

import (
	"context"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

func newFloats(a *frame.App) *cobra.Command {
	t := newTrial()
	c := a.Leaf(frame.Spec{
		Use:   "floats FILE",
		Short: "list the floats of a chart and plan where to catch them",
		Long: "Shows what a chart asks of the yarns before it is knitted: floats by length against the limit, the rows that need catches and where, rows where catches stack, rows of three yarns, floats over the start of the round, yarns at rest, and floats better worked another way.\n\n" +
			"FILE is a chart file, or - for standard input. With --json all floats and catches are listed, in every repeat.",
		Examples: []string{
			"strandwise floats example:lantern-band --repeats 4 --gauge 20x22/4in",
			"strandwise floats example:pier-panel --flat --limit 5 --json",
		},
		Least: 1, Most: 1, JSON: true,
	}, func(ctx context.Context, args []string) error { return runFloats(ctx, a, t, args[0]) })
	t.addFlags(c)
	return c
}

func runFloats(ctx context.Context, a *frame.App, t *trial, name string) error {
	l, err := t.read(a, ctx, name)
	if err != nil {
		return err
	}
	plan, err := stored.Planned(a, ctx, l.fabric, l.task)
	if err != nil {
		return err
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
