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

func newChartCheck(a *frame.App) *cobra.Command {
	t := newTrial()
	c := a.Leaf(frame.Spec{Use: "check FILE", JSON: true}, t.runCheck)
	t.addFlags(c)
	return c
}

func (t *trial) runCheck(a *frame.App, args []string) error {
	if err := t.read(a, args[0]); err != nil {
		return err
	}
	return a.Answer(1, answer.NewCheck(t.chart, t.piece.Layout.Fabric, t.piece.State.Task(), t.Name, t.from))
}

func newFloats(a *frame.App) *cobra.Command {
	t := newTrial()
	c := a.Leaf(frame.Spec{Use: "floats FILE", JSON: true}, t.runFloats)
	t.addFlags(c)
	t.picture.add(c.Flags(), "picture", "", "draw the wrong side as planned into `FILE`.svg, .png or .pdf; - is an SVG on standard output", pictureKinds...)
	return c
}

func (t *trial) runFloats(a *frame.App, args []string) error {
	if err := t.read(a, args[0]); err != nil {
		return err
	}
	fabric, task := t.piece.Layout.Fabric, t.piece.State.Task()
	plan, err := stored.Planned(a, fabric, task)
	if err != nil {
		return err
	}
	if t.picture.asked() {
		if err := t.draw(a, plan); err != nil || t.picture.isAnswer() {
			return err
		}
	}
	of := answer.FloatsOf{
		Name: t.Name, Chart: t.chart, Fabric: fabric, Gauge: t.gauge, From: t.from, RestLimit: t.RestLimit, Plan: plan,
	}
	if !a.Flags.JSON {
		of.Survey = fabric.Survey(plan, t.RestLimit)
		if of.Reliefs, err = fabric.Relieve(a.Context(), task, of.Survey.Stacks); err != nil {
			return err
		}
	}
	return a.Answer(1, answer.NewFloats(of))
}

func (t *trial) draw(a *frame.App, plan *floats.Plan) error {
	inches := inches(a)
	t.piece.Schedule = session.NewSchedule(plan, t.piece.Rows())
	knitted, options := draw.WithRowsToCome(t.piece, t.piece.Rows(), nil), draw.Options{Side: draw.WrongSide, Inches: inches}
	said := fmt.Sprintf("the wrong side of %s as planned is drawn in %s", t.Name, t.picture.name)
	return t.picture.drawFabric(a, said, knitted, options, paperNamed("", inches))
}
