package cmd

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"strandwise/cmd/frame"
	"strandwise/cmd/render"
	"strandwise/cmd/stored"
	"strandwise/session"
)

// knitOptions are the flags of knit.
type knitOptions struct {
	session.Otherwise
	row, to int

	given func(flag string) bool
}

func newKnit(a *frame.App) *cobra.Command {
	o := &knitOptions{}
	c := a.Leaf(frame.Spec{
		Use:   "knit",
		Short: "log the row just worked and print the next",
		Long: "Logs the row to work as finished and prints the next. Whatever is not named was done as the sheet shows.\n\n" +
			"Stitches count in knitting order within the repeat, not within a run as in the row for a glance: in 3 oat, 11 fjord (oat on 6) the catch is on stitch 9. Lists have commas. 15:16 means planned on 15, made on 16. Each holds for every repeat; 15@3 means repeat 3 only, x:15 means yarn x where two are caught.\n\n" +
			"A strand left too long is told at once. Where the row below was caught otherwise, the next row's catches are chosen to fit.",
		Examples: []string{
			"strandwise knit --row 1",
			"strandwise knit --to 4",
			"strandwise knit --moved 6:5",
		},
		Writes: true, JSON: true,
	}, func(ctx context.Context, _ []string) error { return runKnit(ctx, a, o) })
	set := c.Flags()
	o.given = set.Changed
	set.StringVar(&o.Moved, "moved", "", "catches made on another stitch than planned: `15:16,22:21@3`")
	set.StringVar(&o.Missed, "missed", "", "catches planned and not made: `15,22@3`")
	set.StringVar(&o.Extra, "extra", "", "catches made and not planned: `9,x:15`")
	set.IntVar(&o.row, "row", 0, "log only if row `N` is the row to work")
	set.IntVar(&o.to, "to", 0, "log all rows up to `N` as planned, marked as knitted without the program")
	return c
}

func runKnit(ctx context.Context, a *frame.App, o *knitOptions) error {
	if o.given("to") && (o.given("row") || o.Otherwise != session.Otherwise{}) {
		return frame.Usage("--to logs rows as planned and goes with no other flag").Hint("strandwise knit --to %d, then strandwise knit with the other flags", o.to)
	}
	if err := o.check(); err != nil {
		return err
	}
	from := 0
	p, err := stored.Change(a, ctx, func(p *stored.Piece) ([]session.Event, error) {
		from = p.State.Row + 1
		if o.given("to") {
			return rowsTo(p, o.to)
		}
		return knitted(p, o)
	})
	if err != nil {
		return err
	}
	if a.Flags.JSON {
		return a.AnswerJSON(1, knitBody(p, from))
	}
	return tellKnit(a, p, from)
}

// check refuses an empty list, which would log the row as planned: a script may have meant
// to put a catch there.
func (o *knitOptions) check() error {
	for _, list := range []struct{ flag, given, like string }{
		{"moved", o.Moved, "15:16"}, {"missed", o.Missed, "15"}, {"extra", o.Extra, "9"},
	} {
		if o.given(list.flag) && strings.TrimSpace(list.given) == "" {
			return frame.Usage("--%s names no catch", list.flag).Hint("--%s %s", list.flag, list.like).Hint("strandwise knit, where all was done as planned")
		}
	}
	return nil
}

// knitted makes the event of one row.
func knitted(p *stored.Piece, o *knitOptions) ([]session.Event, error) {
	row := p.State.Row + 1
	if o.given("row") {
		row = o.row
	}
	if err := p.State.Check(&session.RowKnit{Row: row}); err != nil {
		return nil, err
	}
	changes, err := p.Otherwise(o.Otherwise)
	if err != nil {
		return nil, err
	}
	return []session.Event{p.Knit(changes)}, nil
}

// rowsTo makes the events of rows knitted without the program.
func rowsTo(p *stored.Piece, to int) ([]session.Event, error) {
	row := p.State.Row + 1
	if err := p.State.Check(&session.RowKnit{Row: row}); err != nil {
		return nil, err
	}
	if to < 1 || to > p.Rows() {
		return nil, frame.Usage("--to takes a %s from 1 to %d, the last of %s, not %d", p.RowWord(), p.Rows(), p.State.Setup.Name, to).Hint("--to %d", p.Rows())
	}
	if to < row {
		return nil, &session.AlreadyRecordedError{Row: to, Next: row, Round: p.Round()}
	}
	return p.KnitTo(to), nil
}

// tellKnit prints what was logged from a row on, and the row to work now.
func tellKnit(a *frame.App, p *stored.Piece, from int) error {
	a.Say(loggedWords(p, from), "")
	if !a.Display.Quiet {
		for _, line := range otherwise(p, from) {
			a.TellUnder("  ", "%s", line)
		}
	}
	tellGaps(a, p.Piece, p.State.Row)
	tellTurns(a, p)
	next := p.State.Next()
	if next == 0 {
		a.Say(fmt.Sprintf("all %s are worked", frame.Counted(p.Rows(), p.RowWord())), "next: strandwise bind-off")
		return nil
	}
	if p.Departs(next) {
		a.Say(fmt.Sprintf("the catches of %s %d are moved to fit", p.RowWord(), next), "")
	}
	if !a.Display.Quiet && !a.Display.Plain {
		fmt.Fprintln(a.Out)
	}
	return printSheet(a, p.Sheet(next), render.SheetOptions{})
}

// loggedWords says which rows were logged.
func loggedWords(p *stored.Piece, from int) string {
	switch to := p.State.Row; {
	case to > from:
		return fmt.Sprintf("%ss %d to %d logged as planned, knitted without the program", p.RowWord(), from, to)
	case p.State.DoneRow(to).Unwitnessed:
		return fmt.Sprintf("%s %d logged as planned, knitted without the program", p.RowWord(), to)
	case len(otherwise(p, from)) == 0:
		return fmt.Sprintf("%s %d logged as planned", p.RowWord(), to)
	default:
		return fmt.Sprintf("%s %d logged, otherwise than planned:", p.RowWord(), to)
	}
}

// otherwise tells what was not as planned in the row just logged, one line each.
func otherwise(p *stored.Piece, from int) []string {
	row := p.State.Row
	if row != from {
		return nil
	}
	return p.ChangeWords(row, p.Changes(row))
}

// tellGaps warns of strands over the limit that a row has left.
func tellGaps(a *frame.App, p *session.Piece, row int) {
	gaps := p.LongGaps(row)
	for _, line := range p.GapWords(row, gaps) {
		a.WarnUnder("too long: ", line)
	}
	if len(gaps) > 0 {
		a.Tell("%s", p.Mended())
	}
}

// tellTurns tells of yarns that have come to turn about each other, once in a while.
func tellTurns(a *frame.App, p *stored.Piece) {
	yarns := p.Layout.Fabric.Yarns
	for _, t := range p.NewTurns() {
		a.Tell("%s", t.Untangle(yarns[t.A].Name, yarns[t.B].Name))
	}
}

// knitAnswer is the JSON of knit, schema 1. Stitches count in knitting order over the
// whole row, from 1.
type knitAnswer struct {
	Logged      []loggedRow       `json:"logged"`
	LongGaps    []longGap         `json:"long_gaps"`    // over the limit, left by the last of these rows
	NextChanged bool              `json:"next_changed"` // the next row's catches are not the plan's
	Next        *render.SheetJSON `json:"next"`         // null when no row is left
}

// loggedRow is a row as it stands in the log.
type loggedRow struct {
	Row         int           `json:"row"`
	Shown       []loggedCatch `json:"shown"`
	Used        []loggedCatch `json:"used"`
	Unwitnessed bool          `json:"unwitnessed"` // knitted without the program
}

type loggedCatch struct {
	Stitch int    `json:"stitch"`
	Yarn   string `json:"yarn"` // symbol
}

// longGap is a stretch that a yarn passes uncaught, over the limit; both ends in.
type longGap struct {
	Yarn       string `json:"yarn"`
	FromRow    int    `json:"from_row"`
	FromStitch int    `json:"from_stitch"`
	ToRow      int    `json:"to_row"`
	ToStitch   int    `json:"to_stitch"`
	Stitches   int    `json:"stitches"`
	Limit      int    `json:"limit"`
}

func knitBody(p *stored.Piece, from int) knitAnswer {
	next := p.State.Next()
	body := knitAnswer{NextChanged: next > 0 && p.Departs(next), LongGaps: gapBodies(p.Piece, p.LongGaps(p.State.Row))}
	for row := from; row <= p.State.Row; row++ {
		done := p.State.DoneRow(row)
		body.Logged = append(body.Logged, loggedRow{row, catchBodies(p.Piece, done.Shown), catchBodies(p.Piece, done.Used), done.Unwitnessed})
	}
	if next > 0 {
		sheet := render.SheetBody(p.Sheet(next))
		body.Next = &sheet
	}
	return body
}

func catchBodies(p *session.Piece, marks []session.Mark) []loggedCatch {
	bodies := make([]loggedCatch, len(marks))
	for i, m := range marks {
		bodies[i] = loggedCatch{m.Stitch, string(p.Layout.Fabric.Yarns[m.Yarn].Symbol)}
	}
	return bodies
}

func gapBodies(p *session.Piece, gaps []session.Gap) []longGap {
	bodies := make([]longGap, len(gaps))
	for i, g := range gaps {
		symbol := string(p.Layout.Fabric.Yarns[g.Yarn].Symbol)
		bodies[i] = longGap{symbol, g.From.Row, g.From.Stitch, g.To.Row, g.To.Stitch, g.Stitches, g.Limit}
	}
	return bodies
}
