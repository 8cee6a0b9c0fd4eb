package cmd

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/store"
)

// replanOptions are the flags of replan.
type replanOptions struct {
	limit, gauge string
	dryRun       bool
}

func newReplan(a *frame.App) *cobra.Command {
	o := &replanOptions{}
	c := a.Leaf(frame.Spec{
		Use:   "replan [PART...]",
		Short: "another limit, gauge or chart for the rows to come",
		Long: "Plans the rows to come anew in the middle of a piece: with another limit, another gauge (and the limit that follows from it), or other charts. The rows worked already stay as they are.\n\n" +
			"Parts are written as for cast-on and are the whole piece from its first row; of them only the rows above those worked are used.\n\n" +
			"--dry-run tells, row by row, which catches go and which come; with --json it is told whole, in every repeat.",
		Examples: []string{
			"strandwise replan --limit 4 --dry-run",
			"strandwise replan example:lantern-band@4x2 --dry-run",
		},
		Most: frame.AnyNumber, Writes: true, JSON: true,
	}, func(ctx context.Context, args []string) error { return runReplan(ctx, a, o, args) })
	c.Flags().StringVar(&o.limit, "limit", "", "the longest gap, in stitches (5) or as a length (2cm, 3/4in): `LIMIT`")
	c.Flags().StringVar(&o.gauge, "gauge", "", "stitches x rows over a length: `22x24/10cm`, 20/4in or 23x25/9.5x10cm")
	c.Flags().BoolVar(&o.dryRun, "dry-run", false, "print the difference and write nothing")
	return c
}

func runReplan(ctx context.Context, a *frame.App, o *replanOptions, words []string) error {
	if o.limit == "" && o.gauge == "" && len(words) == 0 {
		return frame.Usage("replan needs something to plan anew for").Hint("strandwise replan --limit 4").Hint("strandwise replan --gauge 24x26/10cm")
	}
	if err := o.slip(words); err != nil {
		return err
	}
	parts, err := stored.ReadParts(a, ctx, words)
	if err != nil {
		return err
	}
	before, err := stored.Take(a, ctx)
	if err != nil {
		return err
	}
	event, err := o.event(before.State, parts)
	if err != nil {
		return err
	}
	after, err := replanned(a, ctx, before, event, parts)
	if err != nil {
		return err
	}
	if !o.dryRun {
		if err := logReplan(a, ctx, before, after, event, parts); err != nil {
			return err
		}
	}
	return tellReplan(a, before, after, o.dryRun)
}

// slip refuses a limit or a gauge that was given without its flag, where it would be taken
// for the name of a chart.
func (o *replanOptions) slip(words []string) error {
	if len(words) != 1 {
		return nil
	}
	word := words[0]
	if _, err := floats.ParseGauge(word); err == nil {
		return frame.Usage("%s is a gauge; replan takes charts without a flag", word).Hint("strandwise replan --gauge %s", word)
	}
	some, _ := floats.ParseGauge("20/4in") // a length can be read only beside a gauge
	if _, err := floats.ParseLimit(word, some); err == nil {
		return frame.Usage("%s is a limit; replan takes charts without a flag", word).Hint("strandwise replan --limit %s", word)
	}
	return nil
}

// event makes the event of the flags. A new gauge alone gives the limit that follows
// from it for the item.
func (o *replanOptions) event(s *session.State, parts []stored.Part) (*session.Replanned, error) {
	e := &session.Replanned{Gauge: o.gauge, Parts: stored.Refs(parts)}
	text := o.gauge
	if text == "" {
		text = s.Setup.Gauge
	}
	var gauge floats.Gauge
	var err error
	if text != "" {
		if gauge, err = floats.ParseGauge(text); err != nil {
			return nil, err
		}
	}
	switch {
	case o.limit != "":
		e.Limit, err = floats.ParseLimit(o.limit, gauge)
	case o.gauge != "":
		item, _ := floats.ItemNamed(s.Setup.Item.String())
		e.Limit = gauge.Limit(item)
	}
	return e, err
}

// replanned is the piece as it would be after the event, planned.
func replanned(a *frame.App, ctx context.Context, p *stored.Piece, e *session.Replanned, parts []stored.Part) (*stored.Piece, error) {
	state, err := p.State.With(e)
	if err != nil {
		return nil, err
	}
	read := stored.ChartsOf(parts)
	layout, err := state.Lay(func(hash [32]byte) (*chart.Chart, error) {
		for i, ref := range p.Layout.Parts {
			if ref.Hash == hash && p.Layout.Charts[i] != nil {
				return p.Layout.Charts[i], nil
			}
		}
		return read(hash)
	})
	if err != nil {
		return nil, err
	}
	after := &stored.Piece{Piece: &session.Piece{State: state, Layout: layout}, ID: p.ID}
	return after, stored.Plan(a, ctx, after)
}

// logReplan logs the event with its charts and its plan, unless another terminal
// logged something on the piece meanwhile.
func logReplan(a *frame.App, ctx context.Context, before, after *stored.Piece, e *session.Replanned, parts []stored.Part) error {
	return stored.ChangeStore(a, ctx, func(tx *store.Tx) error {
		now, err := stored.Open(tx, before.State.Setup.Name)
		if err != nil {
			return err
		}
		if now.State.LastSeq != before.State.LastSeq {
			return frame.Refused("another terminal logged something on %s meanwhile", before.State.Setup.Name).Hint("the same command again")
		}
		if err := stored.PutCharts(tx, parts); err != nil {
			return err
		}
		if err := stored.Log(a, tx, now, []session.Event{e}); err != nil {
			return err
		}
		return tx.PutCache(stored.PlanName(after.State), after.Schedule.Bytes())
	})
}

// mostChanges is how many lines of the difference a dry run prints.
const mostChanges = 24

// replanJSON is the answer of replan in JSON, schema 2.
type replanJSON struct {
	Piece         string       `json:"piece"`
	DryRun        bool         `json:"dry_run"`
	Limit         int          `json:"limit"`
	Rows          int          `json:"rows"` // of the whole piece now
	Changed       []int        `json:"changed"`
	Differences   []rowChanged `json:"differences"`    // one for each row changed
	CatchesBefore int          `json:"catches_before"` // in the rows to come
	CatchesAfter  int          `json:"catches_after"`
	StitchesLeft  int          `json:"stitches_left"` // by the last finished row; 0 when none is finished or to come
	StitchesUsed  int          `json:"stitches_used"` // by the first row to come
	Score         int          `json:"score"`
	Bound         int          `json:"bound"`
	Proven        bool         `json:"proven"`
}

// rowChanged is what goes and what comes in a row, yarns as symbols. OtherStitches says that the row is worked in
// other stitches or is not in both pieces: then all its catches go and come.
type rowChanged struct {
	Row           int           `json:"row"`
	OtherStitches bool          `json:"other_stitches"`
	Gone          []placedCatch `json:"gone"`
	Come          []placedCatch `json:"come"`
}

// placedCatch is a catch by its place in the row.
type placedCatch struct {
	answer.Place
	Yarn string `json:"yarn"`
}

func replanBody(before, after *stored.Piece, d session.Difference, dryRun bool) replanJSON {
	s := after.Schedule
	body := replanJSON{
		Piece: after.State.Setup.Name, DryRun: dryRun, Limit: after.State.Setup.Limit, Rows: d.RowsNow,
		CatchesBefore: d.Before, CatchesAfter: d.After, StitchesLeft: d.Left, StitchesUsed: d.Needed,
		Score: s.Score, Bound: s.Bound, Proven: s.Proven(),
	}
	for _, c := range d.Rows {
		body.Changed = append(body.Changed, c.Row)
		body.Differences = append(body.Differences, rowChanged{c.Row, c.Other, placedCatches(before, c.Row, c.Gone), placedCatches(after, c.Row, c.Come)})
	}
	return body
}

func placedCatches(p *stored.Piece, row int, catches []session.CatchOf) []placedCatch {
	var places []placedCatch
	for _, c := range catches {
		places = append(places, placedCatch{p.PlaceOf(row, c.Stitch), string(c.Symbol)})
	}
	return places
}

func tellReplan(a *frame.App, before, after *stored.Piece, dryRun bool) error {
	d := session.ComparePlans(before.Piece, after.Piece)
	if a.Flags.JSON {
		return a.AnswerJSON(2, replanBody(before, after, d, dryRun))
	}
	rows := after.RowWord()
	a.Tell("%s: at most %s uncaught from %s %d on", after.State.Setup.Name, stitches(after.State.Setup.Limit), rows, after.State.FirstToPlan())
	if begun := after.State.OnNeedle; begun != nil {
		a.Tell("%s", keptWords(rows, begun.Row))
	}
	if d.RowsIn != d.RowsNow {
		a.Tell("%s instead of %d", frame.Counted(d.RowsNow, rows), d.RowsIn)
	}
	a.Tell("Catches in the %ss to come: %d, before %d", rows, d.After, d.Before)
	tellChanged(a, d, rows)
	if d.Left != d.Needed {
		a.Tell("Warning: %s %d uses up %s and %s %d left %s", rows, after.State.FirstToPlan(), stitches(d.Needed), rows, after.State.FirstToPlan()-1, stitches(d.Left))
	}
	if before.State.Begun > 0 && after.State.Begun == 0 {
		a.Tell("The place in the begun %s was one of the other chart: strandwise pause STITCH tells it anew", rows)
	}
	if dryRun {
		tellChanges(a, d.InWords(before.Piece, after.Piece), rows)
		a.Tell("A dry run: nothing was written")
		return nil
	}
	a.Say("planned anew; the "+rows+"s worked stay as they are", "next: strandwise show")
	return nil
}

// keptWords tells that the row on the needles is not changed.
func keptWords(word string, row int) string {
	return fmt.Sprintf("%s %d is begun: it stays as it was shown", word, row)
}

// tellChanged lists the rows that are not as they were.
func tellChanged(a *frame.App, d session.Difference, rows string) {
	if len(d.Rows) == 0 {
		a.Tell("No %s is different", rows)
		return
	}
	var numbers []int
	for _, c := range d.Rows {
		numbers = append(numbers, c.Row)
	}
	a.Tell("Different: %s %s", frame.Plural(rows, len(numbers)), session.Listed(session.Ranges(numbers), "and"))
}

// tellChanges tells what goes and what comes, rows alike in one line, as far as that
// is not too long to read.
func tellChanges(a *frame.App, changes []session.RowsInWords, rows string) {
	if len(changes) > 0 {
		a.Tell("Stitches count within the repeat, in every repeat where none is named:")
	}
	for _, c := range changes[:min(mostChanges, len(changes))] {
		a.Tell("%s %s: %s", frame.Plural(rows, len(c.Rows)), session.Listed(session.Ranges(c.Rows), "and"), c.Text)
	}
	left := 0
	for _, c := range changes[min(mostChanges, len(changes)):] {
		left += len(c.Rows)
	}
	if left > 0 {
		a.Tell("and %s more; --json lists them all", frame.Counted(left, rows))
	}
}
