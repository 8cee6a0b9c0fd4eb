package cmd

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
)

type historyOptions struct {
	last int
	csv  bool
}

func newHistory(a *frame.App) *cobra.Command {
	o := &historyOptions{last: 20}
	c := a.Leaf(frame.Spec{Use: "history", JSON: true}, o.run)
	c.Flags().BoolVar(&o.csv, "csv", false, "answer as a table of CSV, one line an event")
	c.Flags().IntVar(&o.last, "last", o.last, "only the last `N`; 0 is all")
	return c
}

func (o *historyOptions) run(a *frame.App, _ []string) error {
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
	return a.Answer(2, body)
}

// historyTable writes CSV by RFC 4180: lines end in CR LF. The columns are named as in JSON.
func historyTable(w io.Writer, body *answer.History) error {
	t := csv.NewWriter(w)
	t.UseCRLF = true
	lines := [][]string{{"number", "at", "kind", "words", "undone"}}
	for _, e := range body.Events {
		lines = append(lines, []string{fmt.Sprint(e.Number), e.At.Format(time.RFC3339), e.Kind, harmless(e.Words), frame.YesNo(e.Undone)})
	}
	return t.WriteAll(lines)
}

// harmless is a cell that a spreadsheet takes for text: one that it would run as a formula gets an
// apostrophe in front. Tab and carriage return are told because some spreadsheets skip them.
func harmless(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
