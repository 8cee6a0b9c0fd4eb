package answer

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
	"strandwise/cmd/draw"
	"strandwise/cmd/knitted"
	"strandwise/floats"
	"strandwise/session"

	d "strandwise/cmd/document"
)

// catchesDrawn lists the places of the catches in the pictures that follow each word, one drawn in
// two neighboring parts once.
func catchesDrawn(t *testing.T, blocks []d.Block) map[string]map[string]bool {
	t.Helper()
	word, drawn := "", map[string]map[string]bool{"Before:": {}, "After:": {}}
	for _, b := range blocks {
		switch b := b.(type) {
		case d.Line:
			word = b.Text.String()
		case d.Picture:
			scene, is := b.Drawing.(*draw.Scene)
			require.True(t, is)
			for place := range placesOf(scene.Shapes, "catch") {
				drawn[word][place] = true
			}
		}
	}
	return drawn
}

// placesOf lists the places of the shapes of a class.
func placesOf(shapes []draw.Shape, class string) map[string]bool {
	places := map[string]bool{}
	for _, s := range shapes {
		for place := range placesOf(s.Inside, class) {
			places[place] = true
		}
		if s.Class == class {
			place := ""
			for _, datum := range s.Data {
				place += datum.Name + datum.Value + " "
			}
			places[place] = true
		}
	}
	return places
}

// The page of a replan shows before what goes and after what comes, in every row and repeat, and
// all else in both.
func TestReplanIsDrawnBeforeAndAfter(t *testing.T) {
	gone, come := 0, 0
	for seed := range uint64(30) {
		before := knitted.Random(seed).Knit(t)
		state, err := before.State.With(&session.Replanned{Limit: max(2, before.State.Setup.Limit-2)})
		require.NoError(t, err)
		layout, err := state.Lay(func(hash [32]byte) (*chart.Chart, error) { return before.Layout.Charts[hash], nil })
		require.NoError(t, err)
		task := state.Task()
		task.Effort = 1
		plan, err := floats.MakePlan(t.Context(), layout.Fabric, task)
		require.NoError(t, err)
		a := NewReplan(before, &session.Piece{State: state, Layout: layout, Schedule: session.NewSchedule(plan, len(layout.Fabric.Rows))}, true)
		drawn := catchesDrawn(t, a.Page().Blocks)
		var goes, comes int
		for _, row := range a.Difference.Rows {
			goes, comes = goes+len(row.Gone), comes+len(row.Come)
		}
		assert.Equal(t, goes, alone(drawn["Before:"], drawn["After:"]), "seed %d", seed)
		assert.Equal(t, comes, alone(drawn["After:"], drawn["Before:"]), "seed %d", seed)
		gone, come = gone+goes, come+comes
	}
	assert.Positive(t, gone)
	assert.Positive(t, come)
}

// alone counts what is in one and not in the other, but for the letters, which follow the row.
func alone(one, other map[string]bool) (n int) {
	there := map[string]bool{}
	for place := range other {
		there[letterOf.ReplaceAllString(place, "")] = true
	}
	for place := range one {
		if !there[letterOf.ReplaceAllString(place, "")] {
			n++
		}
	}
	return n
}

var letterOf = regexp.MustCompile(`letter\w* `)

// Each row made otherwise is drawn as its sheet showed it and as it was made, whole and cut to the
// repeat in which something changed first.
func TestRowsMadeOtherwiseAreDrawnBeforeAndAfter(t *testing.T) {
	otherwise := 0
	for seed := range uint64(30) {
		p := knitted.Random(seed).Knit(t)
		a := NewReview(p, p.Review(nil), false)
		for _, row := range a.Rows {
			if !row.Changes.Any() {
				continue
			}
			otherwise++
			before, after := draw.AsShown(p, a.Row), draw.WithRowsToCome(p, p.State.Row, a.Mending)
			done, course, stitch := p.State.DoneRow(row.Row), p.Row(row.Row), firstChanged(row.Changes)
			drawn := catchesDrawn(t, beforeAfter(before, after, row.Row, row.Row, draw.Options{}))
			assert.Len(t, drawn["Before:"], len(done.Shown), "seed %d, row %d", seed, row.Row)
			assert.Len(t, drawn["After:"], len(done.Used)+row.Tally.Missed+row.Tally.Moved, "seed %d, row %d", seed, row.Row)

			before.CutRepeatOf(row.Row, stitch)
			after.CutRepeatOf(row.Row, stitch)
			cut := catchesDrawn(t, beforeAfter(before, after, row.Row, row.Row, draw.Options{Bare: true}))
			repeat := fmt.Sprintf("repeat%d ", course.PlaceOf(stitch).Repeat)
			for place := range drawn["Before:"] {
				if course.Repeats() == course.Blocks[0].Repeats && strings.Contains(place, repeat) {
					assert.Contains(t, cut["Before:"], place, "seed %d, row %d", seed, row.Row)
				}
			}
			assert.LessOrEqual(t, len(cut["Before:"]), len(drawn["Before:"]))
		}
	}
	assert.Greater(t, otherwise, 20)
}
