package cmd

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"strandwise/session"
)

func newPause(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "pause STITCH",
		short: "keep the place in a row that is begun",
		long: "Keeps how many stitches of the row are worked, for a stop in the middle of it: 38 counted over the whole row, or 14@3 for stitch 14 of repeat 3. 0 clears the place.\n\n" +
			"A row that is begun stays as it was shown: a new plan or another way of catching holds from the row after it. show and resume tell the place; knit finishes the row, rip takes the begun part out.",
		examples: []string{
			"strandwise pause 14",
			"strandwise pause 3@2",
		},
		least: 1, most: 1, writes: true, json: true,
	}, func(ctx context.Context, args []string) error { return runPause(ctx, a, args[0]) })
}

func runPause(ctx context.Context, a *app, word string) error {
	p, err := a.change(ctx, func(p *storedPiece) ([]session.Event, error) {
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
	if a.flags.json {
		return a.answerJSON(1, placeBody(p))
	}
	if p.State.Begun == 0 {
		a.say("place cleared", "")
	} else {
		a.say(fmt.Sprintf("paused after stitch %s of %s %d", stitchPlace(p, p.State.Begun), p.rowWord(), p.State.Next()), "when you are back: strandwise resume")
	}
	return nil
}

// stitchPlace is a stitch of the row to work, in its repeat as well where there are
// several.
func stitchPlace(p *storedPiece, stitch int) string {
	r := p.Row(p.State.Next())
	if r.Repeats == 1 {
		return strconv.Itoa(stitch)
	}
	width := r.RepeatStitches()
	return fmt.Sprintf("%d (%d of repeat %d)", stitch, (stitch-1)%width+1, (stitch-1)/width+1)
}
