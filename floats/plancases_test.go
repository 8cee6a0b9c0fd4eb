package floats

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A yarn that crosses a whole row of several repeats is one float, caught within the limit
// over their borders too. (The rule of the gaps; flat, a rest of one row.)
func TestAcrossSeveralRepeats(t *testing.T) {
	f := swatch{rows: []string{
		"xx....xxxxxxxxx",
		"...............",
		"..x............",
		"...............",
		"..xxx..xxx..xxx",
		"..xxxxxxxxxxxx.",
	}, repeats: 4, flat: true}.fabric(t)
	task := Task{Limit: 2, RestLimit: 1, Effort: 1}
	p, err := MakePlan(t.Context(), f, task)
	require.NoError(t, err)
	require.NoError(t, f.Check(p.Catches, task))
	var across int
	for _, fl := range f.Floats(1) {
		if fl.Kind == Across {
			across++
			set := []int{}
			for _, c := range p.Catches {
				if c.Row == fl.Row && c.Yarn == fl.Yarn {
					set = append(set, c.Stitch)
				}
			}
			assert.True(t, naiveGaps(fl.Length, 2, Weave, set), "%v caught on %v", fl, set)
		}
	}
	assert.Equal(t, 2, across)
}

// Common practice: catch no oftener than needed. One catch for each fjord float of the
// lantern band in each of its six repeats, none in a column of the row beside it.
func TestLanternBandIsCaughtNoOftenerThanNeeded(t *testing.T) {
	f := exampleFabricOnce(t, "lantern-band.chart", 6)
	p := planOf(t, f, 5, Weave)
	assert.True(t, p.Proven)
	assert.Len(t, p.Catches, 192)
	stacks, _ := f.stacks(p.Catches)
	assert.Empty(t, stacks)
}

// The table of weights: a stitch worked against its side is hardly ever caught. The middle
// of a float of 8 is purled: it is caught beside that. Where one catch would have to stand
// on a purled stitch, two beside them cost less.
func TestPurledStitchesAreHardlyEverCaught(t *testing.T) {
	at := func(row string) (set []int) {
		for _, c := range planOf(t, swatch{rows: []string{row}}.fabric(t), 5, Weave).Catches {
			set = append(set, c.Stitch-1)
		}
		return set
	}
	assert.Contains(t, [][]int{{3}, {6}}, at("x...--...x"))
	assert.Equal(t, []int{3, 7}, at("x...---...x"))
	score := func(row string) int { return planOf(t, swatch{rows: []string{row}}.fabric(t), 5, Weave).Score }
	assert.Equal(t, 300, score("x---------x")-score("x.........x"))
}

// A piece too large to be planned as one is planned in bands: the rules hold over their
// borders, the score is that of the whole, and the bound is one of it.
func TestLargePieceInBands(t *testing.T) {
	c := generatedSize(rand.New(rand.NewPCG(4, 4)), 48, 60, 3)
	f, err := Lay([]Part{{Name: "large", Chart: c, Repeats: 40, Times: 2}}, Work{})
	require.NoError(t, err)
	require.Less(t, f.bandFrom(0), len(f.Rows))
	task := Task{Limit: 4, RestLimit: DefaultRestLimit, Effort: 1}
	p, err := MakePlan(t.Context(), f, task)
	require.NoError(t, err)
	require.NoError(t, f.Check(p.Catches, task))
	caught := setOfCatches(p.Catches)
	whole := newModel(f, task, 0, len(f.Rows), true)
	sets := make(assignment, len(whole.choices))
	for i := range whole.choices {
		sets[i] = f.setOn(whole.choices[i].Float, caught)
	}
	round, score := newRounding(whole), int64(0)
	for i, set := range sets {
		round.put(i, set)
	}
	for _, component := range whole.components() {
		score += round.componentCost(component) / unit
	}
	assert.Equal(t, int(score), p.Score)
	assert.LessOrEqual(t, p.Bound, p.Score)
	assert.Greater(t, p.Bound, p.Score*9/10)
}

// A yarn that is worked once a round floats above itself. Millions of sets may cost less than what
// the best loses by that; so many are not tried.
func TestFloatAboveItselfIsChosenWithBoundedEffort(t *testing.T) {
	c := &choice{Float: Float{Kind: OverStart, Length: 240}, stand: 1, shape: newShape(rulesFor(240, 8, Twist))}
	w, tried := &paths{}, 0
	w.set(c, make([]int64, c.Length))
	set, _ := w.cheapest(func([]int32) int64 {
		tried++
		return 1 << 40
	})
	assert.Equal(t, mostMeetings, tried)
	assert.True(t, c.shape.allows(set))
}
