package answer

import (
	"strandwise/chart"
	d "strandwise/cmd/document"
	"strandwise/cmd/draw"
	"strandwise/session"
)

// Replan is the answer of replan, schema 2.
type Replan struct {
	Piece  string `json:"piece"`
	DryRun bool   `json:"dry_run"`
	Limit  int    `json:"limit"`
	session.Difference
	Score  int  `json:"score"`
	Bound  int  `json:"bound"`
	Proven bool `json:"proven"`

	before, after *session.Piece
}

// NewReplan makes the answer of a piece as it was and as it is planned now.
func NewReplan(before, after *session.Piece, dryRun bool) *Replan {
	plan, setup := after.Schedule, after.State.Setup
	return &Replan{setup.Name, dryRun, setup.Limit, session.ComparePlans(before, after), plan.Score, plan.Bound, plan.Proven(), before, after}
}

// Document tells what changed, and of a dry run what goes and what comes.
func (a *Replan) Document() d.Document {
	p, state := &prose{}, a.after.State
	rows, first := session.RowWord(!state.Setup.Flat), state.FirstToPlan()
	p.named(a.Piece, ": at most %s uncaught from %s %d on", stitches(a.Limit), rows, first)
	if begun := state.OnNeedle; begun != nil {
		p.item("%s", begunStays(rows, begun.Row))
	}
	if a.RowsIn != a.RowsNow {
		p.item("%s instead of %d", d.Counted(a.RowsNow, rows), a.RowsIn)
	}
	p.item("Catches in the %ss to come: %d, before %d", rows, a.After, a.Before)
	if len(a.Changed) == 0 {
		p.item("No %s is different", rows)
	} else {
		p.item("Different: %s", rowList(rows, a.Changed))
	}
	if a.Left != a.Needed {
		p.item("Warning: %s %d uses up %s and %[1]s %[4]d left %[5]s", rows, first, stitches(a.Needed), first-1, stitches(a.Left))
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
	changes := a.InWords(a.before, a.after)
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

// beforeAfter draws the wrong side of the same rows twice, as far as the piece has them.
func beforeAfter(before, after *draw.Knitted, from, to int, o draw.Options) (blocks []d.Block) {
	parts := [2][]*draw.Scene{}
	o.Side = draw.WrongSide
	for i, k := range []*draw.Knitted{before, after} {
		if from <= k.Rows {
			k.CutRows(from, min(to, k.Rows))
			parts[i] = draw.OnPage(k, o)
		}
	}
	for part := range max(len(parts[0]), len(parts[1])) {
		for i, word := range []string{"Before:", "After:"} {
			if part < len(parts[i]) {
				blocks = append(blocks, d.Line{Text: d.Words(word)}, d.Picture{Drawing: parts[i][part]})
			}
		}
	}
	return blocks
}

// Page draws the rows that change as well, as they were planned and as they are now.
func (a *Replan) Page() d.Document {
	page := a.Document()
	page.Title = a.Piece + ": planned anew"
	if n := len(a.Changed); n > 0 {
		last := a.Changed[n-1]
		before := draw.WithRowsToCome(a.before, min(last, a.before.Rows()), nil)
		after := draw.WithRowsToCome(a.after, min(last, a.after.Rows()), nil)
		page.Blocks = append(page.Blocks, beforeAfter(before, after, a.Changed[0], last, draw.Options{})...)
	}
	return page
}
