package cmd

import (
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newLocate(a *frame.App) *cobra.Command {
	below := ""
	c := a.Leaf(frame.Spec{Use: "locate RUNS", Least: 1, Most: frame.AnyNumber, JSON: true},
		func(a *frame.App, args []string) error { return runLocate(a, strings.Join(args, " "), below) })
	c.Flags().StringVar(&below, "below", "", "`RUNS` of the row below it, to tell rows apart that are alike")
	return c
}

func runLocate(a *frame.App, text, below string) error {
	p, err := stored.Take(a)
	if err != nil {
		return err
	}
	runs, err := p.ParseReading(text)
	if err != nil {
		return err
	}
	var under []session.ReadRun
	if below != "" {
		if under, err = p.ParseReading(below); err != nil {
			return err
		}
	}
	return write(a, 1, answer.NewLocated(p.Piece, p.Locate(runs, under), below != ""))
}
