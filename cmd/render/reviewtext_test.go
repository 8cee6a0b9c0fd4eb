package render

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/paint"
	"strandwise/session"
)

// bare is a look without colors.
func bare(width int, plain bool) Look {
	return Look{Paint: paint.New(paint.None), Marks: paint.ChooseMarks(paint.ASCII, nil), Width: width, Plain: plain}
}

// twisted is a flat piece caught by twists with one yarn at a time, so that its strands turn.
func twisted(t testing.TB) *session.Piece {
	k := examplesKnitted(t)["pier-panel"]
	k.setup.Grip = session.Grip{Hold: "one-at-a-time", Carry: "rotating", Method: "twist", Dominant: session.DominantPattern}
	return k.knit(t)
}

func TestReviewTextGolden(t *testing.T) {
	pieces := map[string]*session.Piece{
		"mitten": examplesKnitted(t)["mooring-mitten"].knit(t), "panel": twisted(t),
	}
	for name, p := range pieces {
		for _, width := range []int{40, 80, 200} {
			for _, plain := range []bool{false, true} {
				var b bytes.Buffer
				require.NoError(t, ReviewText(&b, p, p.Review(nil), bare(width, plain), false))
				for _, line := range strings.Split(b.String(), "\n") {
					assert.LessOrEqual(t, paint.Width(line), width, line)
				}
				golden(t, fmt.Sprintf("review-%s-%d-%v.txt", name, width, plain), b.Bytes())
			}
		}
	}
}

// For a speech program a review is sentences: each on its own, no columns, no signs.
func TestReviewInSentences(t *testing.T) {
	sentence := regexp.MustCompile(`^[A-Z0-9][^|;*+<>\[\]=~^_]*[.]$`)
	for seed := range uint64(40) {
		p := randomKnitting(seed).knit(t)
		r := p.Review(nil)
		var b bytes.Buffer
		require.NoError(t, ReviewText(&b, p, r, bare(1000, true), false))
		for _, line := range strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n") {
			if !strings.Contains(line, "injured") && !strings.Contains(line, "on each other. To take") {
				require.Regexp(t, sentence, line)
			}
			require.NotContains(t, line, "  ")
		}
		require.Equal(t, len(r.Mending), strings.Count(b.String(), "\nNumber "))
		require.Equal(t, len(p.Mends(r)), strings.Count(b.String(), "tack it down"))
		for _, y := range r.Yarns {
			require.Contains(t, strings.ToLower(b.String()), strings.ToLower(y.Name)+" has ")
		}
	}
}

// codes are a terminal's codes for colors.
var codes = regexp.MustCompile("\x1b\\[[0-9;]*m")

// Colors only repeat what the text says.
func TestReviewTextIsTheSameInColor(t *testing.T) {
	p := examplesKnitted(t)["mooring-mitten"].knit(t)
	look := bare(80, false)
	var without, with bytes.Buffer
	require.NoError(t, ReviewText(&without, p, p.Review(nil), look, true))
	look.Paint = paint.New(paint.Sixteen)
	require.NoError(t, ReviewText(&with, p, p.Review(nil), look, true))
	assert.Equal(t, without.String(), codes.ReplaceAllString(with.String(), ""))
	assert.NotEqual(t, without.String(), with.String())
}

// The reviews show the whole mending list, each line once.
func TestReviewTextHasTheWholeMendingList(t *testing.T) {
	for seed := range uint64(60) {
		p := randomKnitting(seed).knit(t)
		r := p.Review(nil)
		var b bytes.Buffer
		require.NoError(t, ReviewText(&b, p, r, bare(1000, false), false))
		for _, m := range p.Mends(r) {
			require.Equal(t, 1, strings.Count(b.String(), fmt.Sprintf("  %d. %s\n", m.Number, m)))
		}
		require.Equal(t, len(r.Mending), strings.Count(b.String(), "uncaught, tack it down"))
	}
}

func TestSpent(t *testing.T) {
	for minutes, want := range map[float64]string{0: "under 1 min", 0.4: "under 1 min", 1: "1 min", 59.4: "59 min", 60: "1 h", 90: "1 h 30 min", 1500: "25 h"} {
		assert.Equal(t, want, Spent(time.Duration(minutes*float64(time.Minute))))
	}
}

func TestLengths(t *testing.T) {
	assert.Equal(t, "2.5 cm", Length(25.4, false))
	assert.Equal(t, "1.0 in", Length(25.4, true))
}
