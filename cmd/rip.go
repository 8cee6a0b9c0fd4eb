package cmd

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"strandwise/session"
)

func newRip(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "rip [N]",
		short: "log that rows were ripped back",
		long: "Logs that knitting was taken out: without a number the begun part of the row, with a number that and so many finished rows. On a piece that is bound off the binding off comes out first.\n\n" +
			"Ripping back happened in the yarn, so it stays in the history. For a row logged by mistake there is undo.",
		examples: []string{
			"strandwise knit && strandwise rip 1 --yes",
			"strandwise pause 14 && strandwise rip",
		},
		most: 1, writes: true, json: true,
	}, func(ctx context.Context, args []string) error { return runRip(ctx, a, args) })
}

func runRip(ctx context.Context, a *app, args []string) error {
	before, err := a.take(ctx)
	if err != nil {
		return err
	}
	rows, err := ripCount(before, args)
	if err != nil {
		return err
	}
	e := &session.Ripped{Rows: rows}
	if err := before.State.Check(e); err != nil {
		return err
	}
	if rows > 0 {
		if err := a.confirm(ctx, ripWords(before, rows)); err != nil {
			return err
		}
	}
	p, err := a.change(ctx, func(p *storedPiece) ([]session.Event, error) {
		if p.id != before.id || p.State.LastSeq != before.State.LastSeq {
			return nil, refused("%s was changed in another terminal meanwhile", p.State.Setup.Name).hint("strandwise resume, then rip again")
		}
		return []session.Event{e}, nil
	})
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.answerJSON(1, placeBody(p))
	}
	a.say(fmt.Sprintf("ripped back: %s", p.Words(p.State.Newest())[len("ripped back: "):]), "")
	a.sayPlace(p)
	return nil
}

// ripCount reads how many finished rows are to come out; a count that none can be is told
// how many there are.
func ripCount(p *storedPiece, args []string) (int, error) {
	if len(args) == 0 {
		return 0, nil
	}
	n, err := strconv.Atoi(args[0])
	if err == nil && n >= 1 && n <= trialMost {
		return n, nil
	}
	there := fmt.Sprintf("from 1 to %d, as many as are finished", p.State.Row)
	switch p.State.Row {
	case 0:
		there = "of which none is finished"
	case 1:
		there = "of which 1 is finished"
	}
	return 0, usage("rip takes a whole number of %ss, %s, not %q", p.rowWord(), there, args[0]).
		hint("strandwise rip 1, or strandwise rip alone for the begun part of a %s", p.rowWord())
}

// ripWords names what comes out, for the question.
func ripWords(p *storedPiece, rows int) string {
	row := p.State.Row
	if rows == 1 {
		return fmt.Sprintf("rip back finished %s %d of %s", p.rowWord(), row, p.State.Setup.Name)
	}
	return fmt.Sprintf("rip back finished %ss %d to %d of %s", p.rowWord(), row-rows+1, row, p.State.Setup.Name)
}

// sayPlace says which row is to be worked, and the command that prints it.
func (a *app) sayPlace(p *storedPiece) {
	next := p.State.Next()
	switch {
	case p.State.BoundOff:
		a.say(fmt.Sprintf("%s is bound off", p.State.Setup.Name), "")
	case next == 0:
		a.say(fmt.Sprintf("all %s are worked", counted(p.Rows(), p.rowWord())), "next: strandwise bind-off")
	default:
		a.say(fmt.Sprintf("you are on %s %d of %d", p.rowWord(), next, p.Rows()), "next: strandwise show")
	}
}

// placeAnswer is where a piece stands, in JSON, schema 1.
type placeAnswer struct {
	Piece    string `json:"piece"`
	Row      int    `json:"row"`   // finished rows
	Next     int    `json:"next"`  // row to work; 0 when none is left
	Begun    int    `json:"begun"` // stitches worked of it
	Of       int    `json:"of"`
	BoundOff bool   `json:"bound_off"`
	Event    uint64 `json:"event"` // number of the newest event
	Words    string `json:"words"` // and what it says
}

func placeBody(p *storedPiece) placeAnswer {
	s := p.State
	return placeAnswer{s.Setup.Name, s.Row, s.Next(), s.Begun, p.Rows(), s.BoundOff, s.LastSeq, p.Words(p.State.Newest())}
}
