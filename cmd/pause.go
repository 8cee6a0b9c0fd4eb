package cmd

import (
	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
)

func newPause(a *frame.App) *cobra.Command {
	return a.Leaf(frame.Spec{
		Use:   "pause STITCH",
		Short: "keep the place in a row that is begun",
		Long: "Keeps how many stitches of the row are worked, for a stop in the middle of it: 38 stitches in all, 14@3 for stitch 14 of repeat 3, @3 for three repeats; in a row of blocks behind the number of the block, 2/14@3 or 2/@3. 0 clears the place.\n\n" +
			"A row that is begun stays as it was shown: a new plan or another way of catching holds from the row after it. show and resume tell the place; knit finishes the row, rip takes the begun part out.",
		Examples: []string{
			"strandwise pause 14",
			"strandwise pause 3@2",
		},
		Least: 1, Most: 1, Writes: true, JSON: true,
	}, func(a *frame.App, args []string) error { return runPause(a, args[0]) })
}

func runPause(a *frame.App, word string) error {
	p, err := stored.Change(a, func(p *stored.Piece) ([]session.Event, error) {
		if err := p.State.Check(&session.Paused{}); err != nil {
			return nil, err
		}
		stitch, err := p.ParsePlace(word)
		if err != nil {
			return nil, err
		}
		return []session.Event{p.Pause(stitch)}, nil
	})
	if err != nil {
		return err
	}
	return write(a, 2, answer.NewPlaced(p.Piece))
}
