package cmd

import (
	"context"
	"fmt"
	"regexp"
	"strconv"
	"sync"

	"github.com/spf13/cobra"

	"strandwise/session"
)

func newPause(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "pause STITCH",
		short: "keep the place in a row that is begun",
		long: "Keeps how many stitches of the row are worked, for a stop in the middle of it: 38 counted over the whole row, or 14@3 for stitch 14 of repeat 3. 0 clears the place.\n\n" +
			"show and resume tell the place; knit finishes the row, rip takes the begun part out.",
		examples: []string{
			"strandwise pause 14",
			"strandwise pause 3@2",
		},
		least: 1, most: 1, writes: true, json: true, late: true, brief: true,
	}, func(ctx context.Context, args []string) error { return runPause(ctx, a, args[0]) })
}

func runPause(ctx context.Context, a *app, word string) error {
	p, err := a.change(ctx, func(p *atHand) ([]session.Event, error) {
		if err := p.State.Check(&session.Paused{}); err != nil {
			return nil, err
		}
		stitch, err := pausedAt(p, word)
		return []session.Event{&session.Paused{Stitch: stitch}}, err
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

var pauseForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(\d{1,7})(?:@(\d{1,7}))?$`)
})

// pausedAt reads a place in the row to work: stitches worked over the whole row.
func pausedAt(p *atHand, word string) (int, error) {
	r := p.Row(p.State.Next())
	m := pauseForm().FindStringSubmatch(word)
	if m == nil {
		return 0, usage("pause takes the last stitch worked, not %q", word).hint("strandwise pause 14, or 14@3 for stitch 14 of repeat 3")
	}
	stitch, _ := strconv.Atoi(m[1])
	if m[2] != "" {
		rep, _ := strconv.Atoi(m[2])
		if rep < 1 || rep > r.Repeats || stitch > r.RepeatStitches() {
			return 0, refused("%s %d has %s of %s, so there is no %s", p.rowWord(), p.State.Next(), counted(r.Repeats, "repeat"), stitches(r.RepeatStitches()), word).
				hint("strandwise show")
		}
		stitch += (rep - 1) * r.RepeatStitches()
	}
	switch n := r.Stitches(); {
	case stitch == n:
		return 0, refused("that is the whole %s, %s", p.rowWord(), stitches(n)).hint("strandwise knit")
	case stitch > n:
		return 0, refused("%s %d has %s, so %d is too many", p.rowWord(), p.State.Next(), stitches(n), stitch).hint("strandwise pause %d", n-1)
	}
	return stitch, nil
}

// stitchPlace is a stitch of the row to work, in its repeat as well where there are
// several.
func stitchPlace(p *atHand, stitch int) string {
	r := p.Row(p.State.Next())
	if r.Repeats == 1 {
		return strconv.Itoa(stitch)
	}
	width := r.RepeatStitches()
	return fmt.Sprintf("%d (%d of repeat %d)", stitch, (stitch-1)%width+1, (stitch-1)/width+1)
}
