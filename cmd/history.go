package cmd

import (
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

// historyOptions are the flags of history.
type historyOptions struct {
	last int
	csv  bool
}

func newHistory(a *frame.App) *cobra.Command {
	o := &historyOptions{last: 20}
	c := a.Leaf(frame.Spec{
		Use:   "history",
		Short: "all that was logged, in order",
		Long: "Lists what was logged for the piece, oldest first, each line with its number and time: rows and what was otherwise in them, ripping back, notes, changes of hold, undoings. Nothing is ever taken out of the history; what was undone says so.\n\n" +
			"With --csv it is a table for a spreadsheet: number, time, kind, words, and yes where the event was undone. A cell that a spreadsheet would run as a formula has an apostrophe in front.",
		Examples: []string{
			"strandwise history",
			"strandwise history --last 0 --json",
			"strandwise history --last 0 --csv > history.csv",
		},
		JSON: true,
	}, func(a *frame.App, _ []string) error { return runHistory(a, o) })
	c.Flags().BoolVar(&o.csv, "csv", false, "answer as a table of CSV, one line an event")
	c.Flags().IntVar(&o.last, "last", o.last, "only the last `N`; 0 is all")
	return c
}

func runHistory(a *frame.App, o *historyOptions) error {
	if o.last < 0 {
		return frame.Usage("--last takes a whole number, 0 or more, not %d", o.last).Hint("--last 0, for all")
	}
	if o.csv && a.Flags.JSON {
		return frame.Usage("--csv and --json exclude each other").Hint("one of them")
	}
	p, err := stored.TakeWhole(a)
	if err != nil {
		return err
	}
	body := answer.NewHistory(p.Piece, o.last)
	if o.csv {
		return historyTable(a.Out, body)
	}
	return write(a, 2, body)
}

// historyTable writes the events as CSV, the columns named as in JSON.
func historyTable(w io.Writer, body *answer.History) error {
	t := frame.NewTable(w, "number", "at", "kind", "words", "undone")
	for _, e := range body.Events {
		t.Add(fmt.Sprint(e.Number), e.At.Format(time.RFC3339), e.Kind, e.Words, frame.YesNo(e.Undone))
	}
	return t.Close()
}
