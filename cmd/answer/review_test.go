package answer

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/document"
	"strandwise/cmd/knitted"
	"strandwise/cmd/paint"
	"strandwise/session"
)

// bare is a look without colors.
func bare(width int, plain bool) paint.Look {
	return paint.Look{Paint: paint.New(paint.None), Marks: paint.ChooseMarks(paint.ASCII, nil), Width: width, Plain: plain}
}

// twisted is a flat piece caught by twists with one yarn at a time, so that its strands turn.
func twisted(t testing.TB) *session.Piece {
	k := knitted.Examples(t)["pier-panel"]
	k.Setup.Grip = session.Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: session.DominantPattern}
	return k.Knit(t)
}

// reviewText is a review as it is written to a terminal or to a speech program.
func reviewText(t testing.TB, p *session.Piece, look paint.Look) string {
	t.Helper()
	var text strings.Builder
	require.NoError(t, document.Write(&text, NewReview(p, p.Review(nil), false).Document(), look))
	return text.String()
}

func TestReviewTextGolden(t *testing.T) {
	pieces := map[string]*session.Piece{
		"mitten": knitted.Examples(t)["mooring-mitten"].Knit(t), "panel": twisted(t),
	}
	for name, p := range pieces {
		golden(t, fmt.Sprintf("review-%s-plain.txt", name), []byte(reviewText(t, p, bare(0, true))))
		for _, width := range []int{40, 80, 200} {
			text := reviewText(t, p, bare(width, false))
			for _, line := range strings.Split(text, "\n") {
				assert.LessOrEqual(t, paint.Width(line), width, line)
			}
			golden(t, fmt.Sprintf("review-%s-%d-false.txt", name, width), []byte(text))
		}
	}
}

// For a speech program a review is sentences: each on its own, no columns, no signs. Names
// keep their letters, so a sentence may begin with a small one.
func TestReviewInSentences(t *testing.T) {
	sentence := regexp.MustCompile(`^[A-Za-z0-9][^|;*+<>\[\]=~^_/]*[.]$`)
	for seed := range uint64(40) {
		p := knitted.Random(seed).Knit(t)
		text := reviewText(t, p, bare(0, true))
		for _, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
			if !strings.Contains(line, "injured") && !strings.Contains(line, "on each other. To take") {
				require.Regexp(t, sentence, line)
			}
			require.NotContains(t, line, "  ")
		}
		mends := p.Review(nil).Mending
		require.Equal(t, len(mends), strings.Count(text, "\nNumber "))
		require.Equal(t, len(mends), strings.Count(text, "tack it down"))
	}
}

// Colors only repeat what the text says.
func TestReviewTextIsTheSameInColor(t *testing.T) {
	p := knitted.Examples(t)["mooring-mitten"].Knit(t)
	look := bare(80, false)
	without := reviewText(t, p, look)
	look.Paint = paint.New(paint.Sixteen)
	with := reviewText(t, p, look)
	assert.Equal(t, without, colorCodes.ReplaceAllString(with, ""))
	assert.NotEqual(t, without, with)
}

// The reviews show the whole mending list, each line once.
func TestReviewTextHasTheWholeMendingList(t *testing.T) {
	for seed := range uint64(60) {
		p := knitted.Random(seed).Knit(t)
		mends, text := p.Review(nil).Mending, reviewText(t, p, bare(1000, false))
		for _, m := range mends {
			require.Equal(t, 1, strings.Count(text, fmt.Sprintf("  %d. %s\n", m.Number, m.Text)))
		}
		require.Equal(t, len(mends), strings.Count(text, "uncaught, tack it down"))
	}
}
