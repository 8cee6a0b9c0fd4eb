package cmd

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/frame"
	"strandwise/session/hold"
)

// motion is what the answer says of one.
type motion struct {
	Hold, Carry, Side, Method, Carried, Attested, Caution string
	Steps                                                 []string
	Crossings                                             int
}

func motionsOf(t *testing.T, args ...string) []motion {
	t.Helper()
	got := runMain(t, frame.Env{}, append([]string{"motions", "--json"}, args...)...)
	require.Zero(t, got.code, got.err)
	var body struct{ Motions []motion }
	require.NoError(t, json.Unmarshal([]byte(got.out), &body))
	return body.Motions
}

// TestAllMotionsStandOnce counts the motions from the holds and their places.
func TestAllMotionsStandOnce(t *testing.T) {
	want := map[[5]string]int{}
	for _, h := range hold.Holds() {
		for _, c := range hold.Carries(h) {
			for _, place := range (hold.Hands{Hold: h, Carry: c}).Places() {
				for _, side := range []hold.Side{hold.KnitSide, hold.PurlSide} {
					for _, method := range hold.Methods() {
						want[[5]string{h.String(), c.String(), place.String(), side.String(), method.String()}] = 1
					}
				}
			}
		}
	}
	got := map[[5]string]int{}
	for _, m := range motionsOf(t, "--all") {
		got[[5]string{m.Hold, m.Carry, m.Carried, m.Side, m.Method}]++
	}
	assert.Equal(t, want, got)
	text := runMain(t, frame.Env{}, "motions", "--all").out
	assert.Equal(t, len(want), strings.Count(text, "In short: "))
}

func TestDerivedMotionsAreMarkedAndSentToThePracticeChart(t *testing.T) {
	derived := 0
	for _, m := range motionsOf(t, "--all") {
		if m.Attested == hold.Derived.String() {
			derived++
			assert.Contains(t, m.Caution, hold.PracticeChart)
		} else {
			assert.Empty(t, m.Caution)
		}
	}
	assert.Positive(t, derived)
	text := runMain(t, frame.Env{}, "motions", "--hold", "right-one-finger", "--method", "weave").out
	assert.Contains(t, text, "(worked out from the rule)")
	assert.Contains(t, text, "cast-on practice")
	assert.NotContains(t, runMain(t, frame.Env{}, "motions", "--hold", "two-hands", "--side", "knit").out, "cast-on practice")
}

func TestMotionsOfAMirrorKnitter(t *testing.T) {
	plain := motionsOf(t, "--hold", "two-hands", "--side", "knit", "--method", "weave")
	mirrored := motionsOf(t, "--hold", "two-hands", "--side", "knit", "--method", "weave", "--mirror")
	require.Len(t, plain, 2)
	require.Len(t, mirrored, 2)
	assert.Equal(t, "left hand", plain[0].Carried)
	assert.Equal(t, "right hand", mirrored[0].Carried)
	assert.Equal(t, len(plain[0].Steps), len(mirrored[0].Steps))
	assert.Equal(t, plain[0].Crossings, mirrored[0].Crossings)
}

func TestMotionsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		args []string
		hint string
	}{
		{[]string{"--hold", "two-hand"}, "two-hands"},
		{[]string{"--hold", "two-hands", "--carry", "rotating"}, "--carry parallel"},
		{[]string{"--method", "weeve"}, "weave"},
		{[]string{"--side", "back"}, "knit"},
	} {
		got := runMain(t, frame.Env{}, append([]string{"motions"}, c.args...)...)
		assert.Equal(t, 2, got.code, c.args)
		assert.Contains(t, got.err, "  try: ", c.args)
		assert.Contains(t, got.err, c.hint, c.args)
	}
}

// TestMotionsNeverNameATurnOfTheClock holds that no motion is told by words that two
// teachers use the opposite ways.
func TestMotionsNeverNameATurnOfTheClock(t *testing.T) {
	text := strings.ToLower(runMain(t, frame.Env{}, "motions", "--all").out + runMain(t, frame.Env{}, "motions", "--all", "--mirror").out)
	assert.NotContains(t, text, "clockwise")
}

// asksAt runs a command at a terminal with an answer.
func asksAt(t *testing.T, path, answer string, args ...string) ran {
	t.Helper()
	return runMain(t, frame.Env{In: strings.NewReader(answer), InTTY: true, ErrTTY: true}, append(args, "--store", path)...)
}

// heldJSON is what hold answers of places.
type heldJSON struct {
	Hold, Lower   string
	DominantPlace string `json:"dominant_place"`
	Seats         []struct{ Place string }
}

// Where teachers differ, which strand comes from below is asked once, at a terminal, when
// Where teachers differ, which strand comes from below is asked once, at a terminal, when
// the hold is chosen, and again only after an answer that is no place; what is answered decides the places and is kept, and no answer leaves
// what is usual, not sure.
func TestWhichStrandLiesLowerIsAskedOnce(t *testing.T) {
	for said, want := range map[string]string{"2\n": "near strand", "1\n": "far strand", "near-strand\n": "near strand", "3\nleft\n2\n": "near strand", "\n": "", "": ""} {
		path := seededStore(t, planted("hat", 3))
		got := asksAt(t, path, said, "hold", "--hold", "right-one-finger")
		assert.Zero(t, got.code, got.err)
		assert.Contains(t, got.err, "1 far strand, or 2 near strand", said)
		body := mustJSON[heldJSON](t, path, 0, "hold")
		assert.Equal(t, want, body.Lower)
		if want != "" {
			assert.Equal(t, want, body.DominantPlace)
			assert.Equal(t, want, body.Seats[0].Place)
		}
		again := asksAt(t, path, "", "hold", "--method", "twist")
		assert.NotContains(t, again.err, "1 far strand", "it is asked with the hold only")
	}
	path := seededStore(t, planted("hat", 3))
	assert.NotContains(t, asksAt(t, path, "", "hold", "--hold", "one-at-a-time").err, "from below", "all teachers agree")
	assert.NotContains(t, onStore(t, path, "hold", "--hold", "left-one-finger").err, "from below", "nobody to ask")
	got := onStore(t, path, "hold", "--hold", "right-two-fingers", "--lower", "left")
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.err, "right-index, right-middle")
	got = onStore(t, path, "hold", "--hold", "left-two-fingers", "--lower", "left-middle")
	assert.Zero(t, got.code, got.err)
	done(t, path, "undo")
	assert.Equal(t, "left-one-finger", mustJSON[heldJSON](t, path, 0, "hold").Hold, "one command is undone as one")
}
