package cmd

import (
	"context"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
	"strandwise/cmd/render"
	"strandwise/cmd/stored"
	"strandwise/floats"
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
	if a.Flags.JSON {
		return a.AnswerJSON(1, floatsBody(l, plan))
	}
	survey := l.fabric.Survey(plan, l.task.RestLimit)
	reliefs, err := l.fabric.Relieve(ctx, l.task, survey.Stacks)
	if err != nil {
		return err
	}
	return render.WriteFloats(a.Out, &render.Floats{
		Name: l.name(), Chart: l.chart, Fabric: l.fabric, Gauge: l.gauge, From: l.from,
		Plan: plan, Survey: survey, Reliefs: reliefs,
	}, look(a))
}

// floatsAnswer is the JSON of floats, schema 1. Rows and stitches count from 1,
// stitches in knitting order over the whole row; yarns are symbols. Floats are
// listed in every repeat, the short ones too, ordered by row, stitch, yarn. Bound
// is what no allowed plan scores less than; proven says that it equals score.
type floatsAnswer struct {
	Limit   int         `json:"limit"`
	Score   int         `json:"score"`
	Proven  bool        `json:"proven"`
	Bound   int         `json:"bound"`
	Floats  []floatItem `json:"floats"`
	Catches []catchItem `json:"catches"`
	Rests   []restItem  `json:"rests"`
}

// floatItem is a float by its first stitch. Kind is within, over-start, to-edge,
// from-edge or across.
type floatItem struct {
	Row    int    `json:"row"`
	Stitch int    `json:"stitch"`
	Length int    `json:"length"`
	Yarn   string `json:"yarn"`
	Kind   string `json:"kind"`
}

// catchItem is a catch, on its stitch (weave) or just before it (twist).
type catchItem struct {
	Row    int    `json:"row"`
	Stitch int    `json:"stitch"`
	Yarn   string `json:"yarn"`
}

// restItem is a yarn that waits for whole rows, from the first to the last of them;
// cut says that it rests too long to be carried up.
type restItem struct {
	Yarn    string `json:"yarn"`
	FromRow int    `json:"from_row"`
	ToRow   int    `json:"to_row"`
	Cut     bool   `json:"cut"`
}

func floatsBody(l *laid, p *floats.Plan) floatsAnswer {
	f := l.fabric
	symbol := func(yarn int) string { return string(f.Yarns[yarn].Symbol) }
	body := floatsAnswer{Limit: p.Limit, Score: p.Score, Proven: p.Proven, Bound: p.Bound}
	for _, fl := range f.Floats(l.task.RestLimit) {
		body.Floats = append(body.Floats, floatItem{fl.Row + 1, fl.Stitch, fl.Length, symbol(fl.Yarn), fl.Kind.String()})
	}
	for _, c := range p.Catches {
		body.Catches = append(body.Catches, catchItem{c.Row + 1, c.Stitch, symbol(c.Yarn)})
	}
	for _, r := range f.Rests(l.task.RestLimit) {
		body.Rests = append(body.Rests, restItem{symbol(r.Yarn), r.FromRow + 1, r.ToRow + 1, r.Cut})
	}
	return body
}
