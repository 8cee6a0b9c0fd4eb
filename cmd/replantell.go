package cmd

import (
	"fmt"

	"strandwise/cmd/frame"
	"strandwise/cmd/render"
	"strandwise/cmd/stored"
	"strandwise/session"
)

// mostChanges is how many lines of the difference a dry run prints.
const mostChanges = 24

// replanJSON is the answer of replan in JSON, schema 1.
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

// rowChanged is what goes and what comes in a row. Stitches count in knitting order
// over the whole row, yarns are symbols. OtherStitches says that the row is worked in
// other stitches or is not in both pieces: then all its catches go and come.
type rowChanged struct {
	Row           int           `json:"row"`
	OtherStitches bool          `json:"other_stitches"`
	Gone          []loggedCatch `json:"gone"`
	Come          []loggedCatch `json:"come"`
}

func replanBody(after *stored.Piece, d session.Difference, dryRun bool) replanJSON {
	s := after.Schedule
	body := replanJSON{
		Piece: after.State.Setup.Name, DryRun: dryRun, Limit: after.State.Setup.Limit, Rows: d.RowsNow,
		CatchesBefore: d.Before, CatchesAfter: d.After, StitchesLeft: d.Left, StitchesUsed: d.Needed,
		Score: s.Score, Bound: s.Bound, Proven: s.Proven(),
	}
	for _, c := range d.Rows {
		body.Changed = append(body.Changed, c.Row)
		body.Differences = append(body.Differences, rowChanged{c.Row, c.Other, symbolBodies(c.Gone), symbolBodies(c.Come)})
	}
	return body
}

func symbolBodies(catches []session.CatchOf) []loggedCatch {
	var places []loggedCatch
	for _, c := range catches {
		places = append(places, loggedCatch{c.Stitch, string(c.Symbol)})
	}
	return places
}

func tellReplan(a *frame.App, before, after *stored.Piece, dryRun bool) error {
	d := session.ComparePlans(before.Piece, after.Piece)
	if a.Flags.JSON {
		return a.AnswerJSON(1, replanBody(after, d, dryRun))
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
	a.Tell("Different: %s %s", frame.Plural(rows, len(numbers)), frame.Listed(render.Ranges(numbers), "and"))
}

// tellChanges tells what goes and what comes, rows alike in one line, as far as that
// is not too long to read.
func tellChanges(a *frame.App, changes []session.RowsInWords, rows string) {
	if len(changes) > 0 {
		a.Tell("Stitches count within the repeat, in every repeat where none is named:")
	}
	for _, c := range changes[:min(mostChanges, len(changes))] {
		a.Tell("%s %s: %s", frame.Plural(rows, len(c.Rows)), frame.Listed(render.Ranges(c.Rows), "and"), c.Text)
	}
	left := 0
	for _, c := range changes[min(mostChanges, len(changes)):] {
		left += len(c.Rows)
	}
	if left > 0 {
		a.Tell("and %s more; --json lists them all", frame.Counted(left, rows))
	}
}
