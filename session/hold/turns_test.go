package hold

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const (
	oat = iota
	fjord
	ember
)

func use(t *Turns, c Carry, yarns ...int) {
	for _, y := range yarns {
		t.Use(c, y)
	}
}

// Source: geometry. With one yarn always from below and one always from above, the second
// passing takes the first back.
func TestParallelChangesAlternate(t *testing.T) {
	var turns Turns
	for i := range 300 {
		use(&turns, Parallel, oat, fjord)
		assert.Equal(t, 1, turns.Sum(oat, fjord), "change to fjord, %d", i)
		use(&turns, Parallel, oat)
		assert.Equal(t, 0, turns.Sum(oat, fjord), "change to oat, %d", i)
	}
	assert.Empty(t, turns.Tangles())
	assert.Empty(t, turns.Due())
}

// Source: geometry. Taken from the same side each time, every two changes are a turn.
func TestRotatingChangesAddUp(t *testing.T) {
	var turns Turns
	use(&turns, Rotating, oat)
	for range 20 {
		use(&turns, Rotating, fjord, oat)
	}
	assert.Equal(t, 40, turns.Sum(fjord, oat))
	assert.Equal(t, []Tangle{{oat, fjord, 20, Under}}, turns.Tangles())
}

// A run that goes on over the start of the round is no change.
func TestGoingOnIsNoChange(t *testing.T) {
	var turns Turns
	use(&turns, Rotating, oat, oat, fjord, fjord, fjord)
	assert.Equal(t, 1, turns.Sum(oat, fjord))
	assert.Equal(t, fjord, turns.Now)
}

// Source: geometry. A yarn that comes back into use passes every strand that was worked
// since its own last stitch, and no other.
func TestThirdYarn(t *testing.T) {
	var turns Turns
	use(&turns, Rotating, oat, fjord, ember, oat)
	assert.Equal(t, 2, turns.Sum(oat, fjord))
	assert.Equal(t, 2, turns.Sum(oat, ember))
	assert.Equal(t, 1, turns.Sum(fjord, ember))
	use(&turns, Rotating, ember)
	assert.Equal(t, 3, turns.Sum(oat, ember))
	assert.Equal(t, 1, turns.Sum(fjord, ember), "fjord was not worked since")
	assert.Zero(t, turns.Sum(oat, 9))
}

func motion(t *testing.T, c Carry, m Method) Motion {
	t.Helper()
	p := FromBelow
	if c == Rotating {
		p = SameSide
	}
	return combination{OneAtATime, c, KnitSide, m, p}.find(t, false)
}

func TestWeavesAddNothing(t *testing.T) {
	var turns Turns
	use(&turns, Parallel, oat, fjord, oat)
	for range 50 {
		turns.Catch(oat, fjord, motion(t, Parallel, Weave), Under)
	}
	assert.Zero(t, turns.Sum(oat, fjord))
}

// Source: common practice: alternate the sense of twists.
func TestTwistsAlternate(t *testing.T) {
	for c, step := range map[Carry]int{Parallel: 2, Rotating: 1} {
		var turns Turns
		twist := motion(t, c, Twist)
		for i := range 10 {
			want, sum := Under, step
			if i%2 == 1 {
				want, sum = Over, 0
			}
			assert.Equal(t, want, turns.NextSense(fjord, oat))
			turns.Catch(oat, fjord, twist, turns.NextSense(oat, fjord))
			assert.Equal(t, sum, turns.Sum(oat, fjord))
		}
	}
}

// Source: arithmetic. In a rotating carry the changes come from under, so the twists
// are made from over until the sum is down.
func TestTwistsWorkAgainstTheChanges(t *testing.T) {
	var turns Turns
	use(&turns, Rotating, oat, fjord, oat, fjord)
	require.Equal(t, 3, turns.Sum(oat, fjord))
	for _, want := range []int{2, 1, 0} {
		assert.Equal(t, Over, turns.NextSense(fjord, oat))
		turns.Catch(fjord, oat, motion(t, Rotating, Twist), Over)
		assert.Equal(t, want, turns.Sum(oat, fjord))
	}
	assert.Equal(t, Under, turns.NextSense(fjord, oat))
}

func TestParallelWorkStaysUntangled(t *testing.T) {
	twist, weave := motion(t, Parallel, Twist), motion(t, Parallel, Weave)
	rapid.Check(t, func(rt *rapid.T) {
		var turns Turns
		for range rapid.IntRange(1, 200).Draw(rt, "acts") {
			switch rapid.IntRange(0, 3).Draw(rt, "act") {
			case 0:
				turns.Use(Parallel, oat)
			case 1:
				turns.Use(Parallel, fjord)
			case 2:
				turns.Catch(oat, fjord, twist, turns.NextSense(oat, fjord))
			case 3:
				turns.Catch(fjord, oat, weave, Under)
			}
			sum := turns.Sum(oat, fjord)
			require.LessOrEqual(rt, max(sum, -sum), 3)
		}
	})
}

func TestTurnsAreDueAfterTwentyNewOnes(t *testing.T) {
	var turns Turns
	use(&turns, Rotating, oat)
	for range 19 {
		use(&turns, Rotating, fjord, oat)
	}
	use(&turns, Rotating, fjord)
	assert.Empty(t, turns.Due(), "39 crossings are 19 turns and a half")
	use(&turns, Rotating, oat)
	assert.Equal(t, []Tangle{{oat, fjord, 20, Under}}, turns.Due())
	turns.Tell()
	assert.Empty(t, turns.Due())
	for range 20 {
		use(&turns, Rotating, fjord, oat)
	}
	assert.Equal(t, []Tangle{{oat, fjord, 20, Under}}, turns.Due(), "only the new ones")
	assert.Equal(t, 40, turns.Tangles()[0].Turns)
}

func TestTellKeepsWhatWasNotDue(t *testing.T) {
	var turns Turns
	for range 21 {
		use(&turns, Rotating, oat, fjord)
	}
	use(&turns, Rotating, ember)
	turns.Tell()
	assert.Empty(t, turns.Due())
	for range 10 {
		use(&turns, Rotating, oat, ember)
	}
	for range 10 {
		use(&turns, Rotating, fjord, ember)
	}
	assert.NotContains(t, turns.Due(), Tangle{oat, ember, 20, Under})
	assert.Equal(t, 21, turns.Sum(oat, ember))
}

func TestCloneSharesNothing(t *testing.T) {
	var turns Turns
	use(&turns, Rotating, oat, fjord)
	other := turns.Clone()
	use(&turns, Rotating, oat, ember)
	assert.Equal(t, 1, other.Sum(oat, fjord))
	assert.Equal(t, []int{oat, fjord}, other.Seen)
}

// Source: geometry: the balls pass each other as the strands did.
func TestUntangleSaysHowManyAndWhichWay(t *testing.T) {
	under := Tangle{oat, fjord, 20, Under}
	assert.Equal(t, "oat and fjord have 20 turns on each other. To take them out, with both balls before you, lead the right-hand "+
		"one round the other 20 times, starting along your side of it; if the strands draw tighter, go round the opposite way.",
		under.Untangle("oat", "fjord", false))
	over := Tangle{oat, fjord, 1, Over}
	assert.Equal(t, "oat and fjord have 1 turn on each other. To take it out, with both balls before you, lead the right-hand "+
		"one round the other once, starting along the far side of it; if the strands draw tighter, go round the opposite way.",
		over.Untangle("oat", "fjord", false))
	assertSwapped(t, over.Untangle("oat", "fjord", false), over.Untangle("oat", "fjord", true))
}

// Source: geometry. Seen from above, a strand taken from under goes from its side to the
// other along the knitter's side. The strands lie straight when the balls have gone round
// each other the same way, since then both ends have turned alike.
func TestUntangleTurnsTheBallsAsTheWorkTurned(t *testing.T) {
	type point struct{ x, y int } // x to the right, y away from the knitter
	round := func(from, along point) int { return from.x*along.y - from.y*along.x }
	start := map[string]point{"right-hand": {1, 0}, "left-hand": {-1, 0}}
	side := map[string]point{"your side": {0, -1}, "the far side": {0, 1}}
	words := regexp.MustCompile(`lead the (\S+) one .* along (.* side) of it`)

	for _, mirror := range []bool{false, true} {
		strand := start["right-hand"]
		if mirror {
			strand = start["left-hand"]
		}
		for sense, along := range map[Sense]point{Under: {0, -1}, Over: {0, 1}} {
			read := words.FindStringSubmatch(Tangle{oat, fjord, 20, sense}.Untangle("oat", "fjord", mirror))
			require.Len(t, read, 3)
			assert.Equal(t, round(strand, along), round(start[read[1]], side[read[2]]), "%s, mirror %v", sense, mirror)
		}
	}
}
