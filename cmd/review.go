package cmd

import (
	"context"

	"github.com/spf13/cobra"

	"strandwise/cmd/render"
	"strandwise/session"
	"strandwise/store"
)

func newReview(a *app) *cobra.Command {
	return a.leaf(spec{
		use:   "review",
		short: "look back: catches, gaps to mend, time",
		long: "Looks back on the piece, finished or under way: catches planned and made, where they stack, the longest gap of each yarn, what to mend and in what order, and the time it took, sitting by sitting.\n\n" +
			"The second of a pair is set beside the first.",
		examples: []string{
			"strandwise review",
			"strandwise review --json",
		},
		json: true,
	}, func(ctx context.Context, _ []string) error { return runReview(ctx, a) })
}

func runReview(ctx context.Context, a *app) error {
	p, r, err := a.lookBack(ctx)
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.answerJSON(1, reviewBody(p.Piece, r))
	}
	inches, err := a.inches()
	if err != nil {
		return err
	}
	return render.ReviewText(a.out, p.Piece, r, a.look(), inches)
}

// lookBack takes the current piece and reviews it, beside the first of its pair
// where that is in the store.
func (a *app) lookBack(ctx context.Context) (*atHand, *session.Review, error) {
	p, err := a.take(ctx)
	if err != nil {
		return nil, nil, err
	}
	first, err := a.firstOfPair(ctx, p)
	if err != nil {
		return nil, nil, err
	}
	return p, p.Review(first), nil
}

// firstOfPair reads the first of the pair; nil when the piece is no second or its
// first is gone from the store. Numbers are given anew on import, so a piece that
// bears the first one's name goes before one that only has its number.
func (a *app) firstOfPair(ctx context.Context, p *atHand) (*session.Piece, error) {
	setup := &p.State.Setup
	if setup.CopyOf == 0 {
		return nil, nil
	}
	s, err := a.openStore()
	if err != nil {
		return nil, err
	}
	var first *session.Piece
	return first, s.View(ctx, func(tx *store.Tx) error {
		pieces, err := listPieces(tx)
		if err != nil {
			return err
		}
		name := ""
		for _, other := range pieces {
			if other.id != p.id && (other.Name == setup.FirstName || name == "" && other.id == store.PieceID(setup.CopyOf)) {
				name = other.Name
			}
		}
		if name == "" {
			return nil
		}
		found, err := open(tx, name)
		if err == nil {
			first = found.Piece
		}
		return err
	})
}

// inches reports whether lengths are told in inches.
func (a *app) inches() (bool, error) {
	units, err := a.settings.get("units")
	return units.text == "inches", err
}
