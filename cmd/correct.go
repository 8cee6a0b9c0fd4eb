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
	c := a.Leaf(frame.Spec{Use: "correct ROW", Least: 1, Most: 1, Writes: true, JSON: true}, o.runCorrect)
	o.addDeviations(c.Flags())
	return c
}

func (o *knitOptions) runCorrect(a *frame.App, args []string) error {
	row, err := strconv.Atoi(args[0])
	if err != nil || row < 1 {
		return frame.Usage("correct takes the number of a finished row, not %q", args[0]).Hint("strandwise correct 5 --missed a")
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
