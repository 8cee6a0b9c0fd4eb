package hold

import (
	"testing"

	"strandwise/floats"

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
	assert.Empty(t, turns.Tell())
}

// Source: geometry. Taken from the same side each time, every two changes are a turn.
func TestRotatingChangesAddUp(t *testing.T) {
	var turns Turns
	use(&turns, Rotating, oat)
	for range 20 {
		use(&turns, Rotating, fjord, oat)
	}
	assert.Equal(t, 40, turns.Sum(fjord, oat))
	assert.Equal(t, []Tangle{{oat, fjord, 20}}, turns.Tangles())
}

// A run that goes on over the start of the round is no change.
func TestGoingOnIsNoChange(t *testing.T) {
	var turns Turns
	use(&turns, Rotating, oat, oat, fjord, fjord, fjord)
	assert.Equal(t, 1, turns.Sum(oat, fjord))
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

func motion(t *testing.T, c Carry, m floats.Method) Motion {
	t.Helper()
	hands := Hands{Hold: OneAtATime, Carry: c}
	found := hands.Motion(KnitSide, m, hands.Places()[0])
	return found
}

func TestWeavesAddNothing(t *testing.T) {
	var turns Turns
	use(&turns, Parallel, oat, fjord, oat)
	for range 50 {
		turns.Catch(oat, fjord, motion(t, Parallel, floats.Weave), Taught)
	}
	assert.Zero(t, turns.Sum(oat, fjord))
}

// In a parallel carry the other way takes out the turn that the taught one left; in a
// rotating carry the taught one is made every time. Source: geometry, a twist is one turn.
func TestTwistsTakeTurnsOutOfAParallelCarryOnly(t *testing.T) {
	var turns Turns
	for i := range 10 {
		want, sum := Taught, -2
		if i%2 == 1 {
			want, sum = Other, 0
		}
		assert.Equal(t, want, turns.NextWay(Parallel, fjord, oat))
		turns.Catch(oat, fjord, motion(t, Parallel, floats.Twist), turns.NextWay(Parallel, oat, fjord))
		assert.Equal(t, sum, turns.Sum(oat, fjord))
	}
	turns = Turns{}
	for i := range 10 {
		assert.Equal(t, Taught, turns.NextWay(Rotating, fjord, oat))
		turns.Catch(oat, fjord, motion(t, Rotating, floats.Twist), Taught)
		assert.Equal(t, -2*(i+1), turns.Sum(oat, fjord))
	}
}

func TestParallelWorkStaysUntangled(t *testing.T) {
	twist, weave := motion(t, Parallel, floats.Twist), motion(t, Parallel, floats.Weave)
	rapid.Check(t, func(rt *rapid.T) {
		var turns Turns
		for range rapid.IntRange(1, 200).Draw(rt, "acts") {
			switch rapid.IntRange(0, 3).Draw(rt, "act") {
			case 0:
				turns.Use(Parallel, oat)
			case 1:
				turns.Use(Parallel, fjord)
			case 2:
				turns.Catch(oat, fjord, twist, turns.NextWay(Parallel, oat, fjord))
			case 3:
				turns.Catch(fjord, oat, weave, Taught)
			}
			sum := turns.Sum(oat, fjord)
			require.LessOrEqual(rt, max(sum, -sum), 4)
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
	assert.Empty(t, turns.Tell(), "39 crossings are 19 turns and a half")
	use(&turns, Rotating, oat)
	assert.Equal(t, []Tangle{{oat, fjord, 20}}, turns.Tell())
	assert.Empty(t, turns.Tell())
	for range 20 {
		use(&turns, Rotating, fjord, oat)
	}
	assert.Equal(t, []Tangle{{oat, fjord, 20}}, turns.Tell(), "only the new ones")
	assert.Equal(t, 40, turns.Tangles()[0].Turns)
}

func TestTellKeepsWhatWasNotDue(t *testing.T) {
	var turns Turns
	for range 21 {
		use(&turns, Rotating, oat, fjord)
	}
	use(&turns, Rotating, ember)
	turns.Tell()
	assert.Empty(t, turns.Tell())
	for range 10 {
		use(&turns, Rotating, oat, ember)
	}
	for range 10 {
		use(&turns, Rotating, fjord, ember)
	}
	assert.NotContains(t, turns.Tell(), Tangle{oat, ember, 20})
	assert.Equal(t, 21, turns.Sum(oat, ember))
}

func TestCloneSharesNothing(t *testing.T) {
	var turns Turns
	use(&turns, Rotating, oat, fjord)
	other := turns.Clone()
	use(&turns, Rotating, oat, ember)
	assert.Equal(t, 1, other.Sum(oat, fjord))
	assert.Equal(t, []int{oat, fjord}, other.seen)
}

func TestUntangleSaysHowMany(t *testing.T) {
	assert.Equal(t, "oat and fjord have 20 turns about each other: make the stitches fast, hold both strands, and let the work hang and spin until they lie straight.",
		Tangle{oat, fjord, 20}.Untangle("oat", "fjord"))
	assert.Contains(t, Tangle{oat, fjord, 1}.Untangle("oat", "fjord"), "have 1 turn about")
}
