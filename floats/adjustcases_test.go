package floats

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Cases of adjusting, each worked out by hand from the weights (arithmetic). In all of
// them fjord passes behind stitches 2 to 10 of a repeat of 11, the limit is 5 and
// floats are caught by weaving. One catch can be on stitch 5, 6 or 7; its gaps are
//
//	stitch 5: 3 and 5, 14 + 40 = 54
//	stitch 6: 4 and 4, 26 + 26 = 52
//	stitch 7: 5 and 3, 40 + 14 = 54
//
// and each catch is 60, and 8 because oat shows behind fjord's stitches. Two catches
// are at least 120 + 16 + 26 with their gaps, 42 more than one. A catch below or above
// adds 100 in its column and 30 in the next ones.
const lone = "x.........x"

// onStitches writes the catches of fjord in a row.
func onStitches(row int, stitches ...int) []Catch {
	var all []Catch
	for _, s := range stitches {
		all = append(all, Catch{row, s, 1})
	}
	return all
}

// byHand is a piece with a plan made by hand: stitches of fjord by row.
type byHand struct {
	swatch
	limit int
	plan  [][]int
}

// next adjusts row 2 above what was made in row 1.
func (h byHand) next(t *testing.T, made ...int) []Catch {
	return h.fabric(t).Adjust(Deviation{
		Task:  Task{Limit: h.limit, RestLimit: DefaultRestLimit},
		Row:   1,
		Below: onStitches(0, made...),
		Plan:  func(row int) []Catch { return onStitches(row, h.plan[row]...) },
	})
}

func TestMovedUnderAPlannedCatch(t *testing.T) {
	one := byHand{swatch{rows: []string{lone, lone, lone}}, 5, [][]int{{4}, {6}, {}}}
	// On 6 it would stack: 52 + 100. On 5 and on 7 it is near, 54 + 30: the first of two
	// equals.
	assert.Equal(t, onStitches(1, 5), one.next(t, 6))
	// With one planned on 5 in the row above: on 5 54 + 30 + 100, on 7 54 + 30.
	one.plan[2] = []int{5}
	assert.Equal(t, onStitches(1, 7), one.next(t, 6))
	// With one on 7 above, the other way round.
	one.plan[2] = []int{7}
	assert.Equal(t, onStitches(1, 5), one.next(t, 6))
	// Moved to where nothing is planned above it: nothing changes.
	assert.Equal(t, onStitches(1, 6), one.next(t, 3))
}

func TestRepeatsMoveAlike(t *testing.T) {
	three := byHand{swatch{rows: []string{lone, lone}, repeats: 3}, 5, [][]int{{5, 16, 27}, {6, 17, 28}}}
	// Moved onto 6 in repeat 2 only. All on 5: 3 x 54 + 100 + 30 + 100. All on 6: 3 x 52 +
	// 30 + 100 + 30. All on 7: 3 x 54 + 0 + 30 + 0, the least, and it stacks nowhere.
	assert.Equal(t, onStitches(1, 7, 18, 29), three.next(t, 5, 17, 27))
	// Moved in every repeat: all on 5 or 7, 3 x (54 + 30); the first of two equals.
	assert.Equal(t, onStitches(1, 5, 16, 27), three.next(t, 6, 17, 28))
}

func TestARepeatDepartsOnlyWhereItWouldStack(t *testing.T) {
	three := byHand{swatch{rows: []string{lone, lone}, repeats: 3}, 5, [][]int{{5, 16, 27}, {6, 17, 28}}}
	// Made on 5, 6 and 7 of the repeats. All on 5: 3 x 54 + 100 + 30 + 0; all on 6: 3 x 52
	// + 30 + 100 + 30; all on 7: 3 x 54 + 0 + 30 + 100. All go to 5, the first of two
	// equals. There repeat 1 still stacks and goes to 7 alone, where nothing is near;
	// repeat 2 is only near and stays with the others.
	assert.Equal(t, onStitches(1, 7, 16, 27), three.next(t, 5, 17, 29))
}

func TestANearCatchSplitsNothing(t *testing.T) {
	three := byHand{swatch{rows: []string{lone, lone}, repeats: 3}, 5, [][]int{{4, 15, 26}, {6, 17, 28}}}
	// In repeat 2 made on 5, beside the 6 planned above: 30 more, but no stack.
	assert.Equal(t, onStitches(1, 6, 17, 28), three.next(t, 4, 16, 26))
}

func TestMissedChangesNothingAbove(t *testing.T) {
	three := byHand{swatch{rows: []string{lone, lone}, repeats: 3}, 5, [][]int{{5, 16, 27}, {6, 17, 28}}}
	assert.Equal(t, onStitches(1, 6, 17, 28), three.next(t, 5, 27))
	assert.Equal(t, onStitches(1, 6, 17, 28), three.next(t))
}

func TestExtraUnderAPlannedCatch(t *testing.T) {
	one := byHand{swatch{rows: []string{lone, lone}}, 5, [][]int{{4}, {6}}}
	// Made on 4 as planned and on 6 besides. On 5: 54 + 30 + 30; on 6: 52 + 100; on 7: 54
	// + 30.
	assert.Equal(t, onStitches(1, 7), one.next(t, 4, 6))
	// An extra one elsewhere changes nothing.
	assert.Equal(t, onStitches(1, 6), one.next(t, 4, 9))
}

// Fjord passes behind stitches 6 to 10 of round 1 and 1 to 4 of round 2, 9 in all.
func TestOverTheStartMissedBelow(t *testing.T) {
	over := byHand{swatch{rows: []string{".....x....", ".....x...."}}, 5, [][]int{{10}, {}}}
	// Planned on the last stitch of round 1, gaps 4 and 4. Missed, the only catch with
	// no gap over 5 is on the first stitch of round 2, gaps 5 and 3.
	assert.Equal(t, onStitches(1, 1), over.next(t))
	// Made one earlier: gaps 3 and 5, nothing to do.
	assert.Empty(t, over.next(t, 9))
	// Made two earlier: the gap after it would be 6; caught once more. On stitch 1 the gaps
	// are 2 and 3, 6 + 14; on 2, 3 and 2, 14 + 6; on 3, 4 and 1, 26 + 2: the first of two
	// equals.
	assert.Equal(t, onStitches(1, 1), over.next(t, 8))
	// With limit 4 the gap is too long already when round 2 begins, 5, and is closed at
	// once.
	over.limit = 4
	assert.Equal(t, onStitches(1, 1), over.next(t))
}

// Fjord passes behind stitches 8 to 12 of round 1 and 1 to 9 of round 2, 14 in all,
// planned on 12 and on 5: gaps 4, 4, 4.
func TestOverTheStartATieKeepsThePlan(t *testing.T) {
	over := byHand{swatch{rows: []string{"..x.........", ".....x......"}}, 5, [][]int{{12}, {5}}}
	// Made on 11: from there the catch on 5 has gaps 5 and 4, on 4 gaps 4 and 5, 66 both.
	assert.Equal(t, onStitches(1, 5), over.next(t, 11))
	// Planned on 4 it stays on 4.
	over.plan[1] = []int{4}
	assert.Equal(t, onStitches(1, 4), over.next(t, 11))
	// Made on 10: on 5 the gap would be 6; on 4 it is 5, and 5 after it; on 3 the last
	// would be 6.
	over.plan[1] = []int{5}
	assert.Equal(t, onStitches(1, 4), over.next(t, 10))
}

// A plan made anew, or one that follows the first of a pair, may have come to a row from other
// catches below than were made: here a weave right after one. What cannot follow is chosen again,
// though nothing was made otherwise than the plan has it.
func TestARestThatDoesNotFollowIsChosenAgain(t *testing.T) {
	c := parsed(t, "....x.......", "x...........")
	f, err := Lay([]Part{{Name: "band", Chart: c.Mirror(), Repeats: 1, Times: 1}}, Work{})
	require.NoError(t, err)
	x := f.Yarn('x')
	plan := [][]Catch{{{0, 6, x}, {0, 12, x}}, {{1, 1, x}}}
	d := Deviation{
		Task: Task{Limit: 5, RestLimit: DefaultRestLimit}, Row: 1, Below: plan[0],
		Plan: func(row int) []Catch { return plan[min(row, 1)] },
	}
	for _, c := range f.Adjust(d) {
		assert.NotEqual(t, Catch{1, 1, x}, c)
	}
}
