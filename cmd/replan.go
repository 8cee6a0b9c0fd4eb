package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/paper"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/store"
)

type replanOptions struct {
	limit  string
	gauge  floats.Gauge // zero where none is given
	sheet  outFile
	dryRun bool
}

func newReplan(a *frame.App) *cobra.Command {
	o := &replanOptions{}
	c := a.Leaf(frame.Spec{Use: "replan [PART...]", Writes: true, JSON: true}, o.run)
	c.Flags().StringVar(&o.limit, "limit", "", "the longest gap, in stitches (5) or as a length (2cm, 3/4in): `LIMIT`")
	c.Flags().Func("gauge", "stitches x rows over a length: `22x24/10cm`, 20/4in or 23x25/9.5x10cm", readInto(&o.gauge, floats.ParseGauge))
	c.Flags().BoolVar(&o.dryRun, "dry-run", false, "print the difference and write nothing")
	o.sheet.add(c.Flags(), "sheet", "", "draw the rows that change, before and after, on one page, `FILE`.html", ".html")
	return c
}

func (o *replanOptions) run(a *frame.App, words []string) error {
	if o.limit == "" && o.gauge.IsZero() && len(words) == 0 {
		return frame.Usage("replan needs something to plan anew for").Hint("strandwise replan --limit 4").Hint("strandwise replan --gauge 24x26/10cm")
	}
	if err := o.slip(words); err != nil {
		return err
	}
	parts, err := stored.ReadParts(a, words)
	if err != nil {
		return err
	}
	before, err := stored.Take(a)
	if err != nil {
		return err
	}
	after, event, err := o.replanned(a, before, parts)
	if err != nil {
		return err
	}
	done := answer.NewReplan(before.Piece, after.Piece, o.dryRun)
	if o.sheet.asked() {
		said := "wrote " + o.sheet.name + ": the rows that change, before and after"
		if err := o.sheet.draw(a, said, nil, done.Page, paper.A4); err != nil {
			return err
		}
	}
	if !o.dryRun {
		if err := logReplan(a, before, after, event, parts); err != nil {
			return err
		}
	}
	if o.sheet.isAnswer() {
		return nil
	}
	return a.Answer(2, done)
}

// slip refuses a limit or a gauge without its flag, which would be taken for a chart.
func (o *replanOptions) slip(words []string) error {
	if len(words) != 1 {
		return nil
	}
	flag := "gauge"
	if _, err := floats.ParseGauge(words[0]); err != nil {
		flag = "limit"
		some, _ := floats.ParseGauge("20/4in") // a length can be read only beside a gauge
		if _, err := floats.ParseLimit(words[0], some); err != nil {
			return nil
		}
	}
	return frame.Usage("%s is a %s; replan takes charts without a flag", words[0], flag).Hint("strandwise replan --%s %s", flag, words[0])
}

// replanned takes, with a new gauge alone, the limit that follows from it for the item.
func (o *replanOptions) replanned(a *frame.App, p *stored.Piece, parts stored.Parts) (*stored.Piece, *session.Replanned, error) {
	e, gauge := &session.Replanned{Gauge: o.gauge.String(), Parts: parts.Refs}, o.gauge
	if gauge.IsZero() {
		gauge, _ = floats.ParseGauge(p.State.Setup.Gauge) // zero where none was told
	}
	var err error
	switch {
	case o.limit != "":
		e.Limit, err = floats.ParseLimit(o.limit, gauge)
	case !o.gauge.IsZero():
		e.Limit = gauge.Limit(floats.Items[p.State.Setup.Item])
	}
	if err != nil {
		return nil, nil, err
	}
	state, err := p.State.With(e)
	if err != nil {
		return nil, nil, err
	}
	for hash, c := range p.Layout.Charts {
		parts.Drawn = append(parts.Drawn, stored.Part{Ref: session.PartRef{Hash: hash}, Chart: c})
	}
	layout, err := state.Lay(parts.Chart)
	if err != nil {
		return nil, nil, err
	}
	after := &stored.Piece{Piece: &session.Piece{State: state, Layout: layout}, ID: p.ID}
	return after, e, stored.Plan(a, after)
}

// logReplan logs unless another terminal logged something on the piece meanwhile.
func logReplan(a *frame.App, before, after *stored.Piece, e *session.Replanned, parts stored.Parts) error {
	return stored.ChangeStore(a, func(tx *store.Tx) error {
		now, err := stored.Open(tx, before.State.Setup.Name, "--piece %s")
		if err != nil {
			return err
		}
		if now.State.LastSeq != before.State.LastSeq {
			return frame.Refused("another terminal logged something on %s meanwhile", before.State.Setup.Name).Hint("the same command again")
		}
		now.Schedule = after.Schedule
		return stored.LogPlanned(a, tx, now, []session.Event{e}, parts)
	})
}
