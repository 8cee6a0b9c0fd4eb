package cmd

import (
	"strconv"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newCorrect(a *frame.App) *cobra.Command {
	o := &knitOptions{}
	c := a.Leaf(frame.Spec{
		Use:   "correct ROW",
		Short: "say that an earlier row was caught otherwise",
		Long: "Corrects what the log says of a finished row: most often a slip is seen a row or two later. Catches are named as in knit, by the letters the row was shown with (strandwise show --row ROW). What is not named stays as it was logged; a+0 says that a was made where it was planned after all, and --missed with the stitch of an extra catch takes that back.\n\n" +
			"The review, the mending list and the rows to come follow it; a row that is begun stays as it was shown. undo takes a correction back.",
		Examples: []string{
			"strandwise knit && strandwise correct 1 --extra 2",
			"strandwise knit --to 5 && strandwise correct 5 --missed a@2",
		},
		Least: 1, Most: 1, Writes: true, JSON: true,
	}, func(a *frame.App, args []string) error { return runCorrect(a, o, args[0]) })
	o.addDeviations(c.Flags())
	return c
}

func runCorrect(a *frame.App, o *knitOptions, word string) error {
	row, err := strconv.Atoi(word)
	if err != nil || row < 1 {
		return frame.Usage("correct takes the number of a finished row, not %q", word).Hint("strandwise correct 5 --missed a")
	}
	if err := o.check(); err != nil {
		return err
	}
	if o.Otherwise == (session.Otherwise{}) {
		return frame.Usage("correct says what was otherwise").Hint("strandwise correct %d --missed a, --moved a+1 or --extra 9", row).Hint("strandwise show --row %d, for its letters", row)
	}
	p, err := stored.Change(a, func(p *stored.Piece) ([]session.Event, error) {
		e, err := p.Corrected(row, o.Otherwise)
		if err != nil {
			return nil, err
		}
		return []session.Event{e}, nil
	})
	if err != nil {
		return err
	}
	return write(a, 2, answer.NewCorrected(p.Piece, row))
}
