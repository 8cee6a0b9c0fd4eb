package answer

import (
	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/session"
)

// Replan is the answer of replan, schema 2.
type Replan struct {
	Piece         string       `json:"piece"`
	DryRun        bool         `json:"dry_run"`
	Limit         int          `json:"limit"`
	Rows          int          `json:"rows"` // of the whole piece now
	Changed       []int        `json:"changed"`
	Differences   []RowChanged `json:"differences"`    // one for each row changed
	CatchesBefore int          `json:"catches_before"` // in the rows to come
	CatchesAfter  int          `json:"catches_after"`
	StitchesLeft  int          `json:"stitches_left"` // by the last finished row; 0 when none is finished or to come
	StitchesUsed  int          `json:"stitches_used"` // by the first row to come
	Score         int          `json:"score"`
	Bound         int          `json:"bound"`
	Proven        bool         `json:"proven"`

	before, after *session.Piece
	difference    session.Difference
}

// RowChanged is what goes and what comes in a row, yarns as symbols. OtherStitches says that the row is worked in
// other stitches or is not in both pieces: then all its catches go and come.
type RowChanged struct {
	Row           int           `json:"row"`
	OtherStitches bool          `json:"other_stitches"`
	Gone          []PlacedCatch `json:"gone"`
	Come          []PlacedCatch `json:"come"`
}

// NewReplan makes the answer of a piece as it was and as it is planned now.
func NewReplan(before, after *session.Piece, dryRun bool) *Replan {
	plan, diff := after.Schedule, session.ComparePlans(before, after)
	a := &Replan{
		Piece: after.State.Setup.Name, DryRun: dryRun, Limit: after.State.Setup.Limit, Rows: diff.RowsNow,
		CatchesBefore: diff.Before, CatchesAfter: diff.After, StitchesLeft: diff.Left, StitchesUsed: diff.Needed,
		Score: plan.Score, Bound: plan.Bound, Proven: plan.Proven(), before: before, after: after, difference: diff,
	}
	for _, c := range diff.Rows {
		a.Changed = append(a.Changed, c.Row)
		a.Differences = append(a.Differences, RowChanged{c.Row, c.Other, placedCatches(before, c.Row, c.Gone), placedCatches(after, c.Row, c.Come)})
	}
	return a
}

func placedCatches(p *session.Piece, row int, catches []session.CatchOf) []PlacedCatch {
	return mapped(catches, func(c session.CatchOf) PlacedCatch { return PlacedCatch{p.PlaceOf(row, c.Stitch), string(c.Symbol)} })
}

// Document tells what changed, and of a dry run what goes and what comes.
func (a *Replan) Document() d.Document {
	p, state := &prose{}, a.after.State
	rows, first := session.RowWord(!state.Setup.Flat), state.FirstToPlan()
	p.named(a.Piece, ": at most %s uncaught from %s %d on", stitches(a.Limit), rows, first)
	if begun := state.OnNeedle; begun != nil {
		p.item("%s", begunStays(rows, begun.Row))
	}
	if was := a.difference.RowsIn; was != a.Rows {
		p.item("%s instead of %d", d.Counted(a.Rows, rows), was)
	}
	p.item("Catches in the %ss to come: %d, before %d", rows, a.CatchesAfter, a.CatchesBefore)
	if len(a.Changed) == 0 {
		p.item("No %s is different", rows)
	} else {
		p.item("Different: %s", rowList(rows, a.Changed))
	}
	if a.StitchesLeft != a.StitchesUsed {
		p.item("Warning: %s %d uses up %s and %[1]s %[4]d left %[5]s", rows, first, stitches(a.StitchesUsed), first-1, stitches(a.StitchesLeft))
	}
	if a.before.State.Begun > 0 && state.Begun == 0 {
		p.item("The place in the begun %s was one of the other chart: strandwise pause STITCH tells it anew", rows)
	}
	if a.DryRun {
		a.changes(p, rows)
		p.item("A dry run: nothing was logged")
		return p.document()
	}
	p.act("planned anew; the %ss worked stay as they are", rows)
	p.next("next: strandwise show")
	return p.document()
}

// rowList names rows: "rounds 5, 7 and 9 to 12".
func rowList(word string, rows []int) string {
	return chart.Plural(word, len(rows)) + " " + session.Listed(session.Ranges(rows), "and")
}

const mostChanges = 24 // lines of the difference that a dry run tells

func (a *Replan) changes(p *prose, rows string) {
	changes := a.difference.InWords(a.before, a.after)
	if len(changes) > 0 {
		p.item("Stitches count within the repeat, in every repeat where none is named:")
	}
	left := 0
	for i, c := range changes {
		if i < mostChanges {
			p.item("%s: %s", rowList(rows, c.Rows), c.Text)
		} else {
			left += len(c.Rows)
		}
	}
	if left > 0 {
		p.item("and %s more; --json lists them all", d.Counted(left, rows))
	}
}
