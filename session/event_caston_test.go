package session

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCastOnState(t *testing.T) {
	s := newLog(t, band()).state
	assert.Equal(t, *band(), s.Setup)
	assert.Equal(t, 24, s.Total(), "2 x 10 rows and 4 plain ones")
	assert.Equal(t, 1, s.Next())
	assert.Equal(t, []Segment{{From: 1, Parts: band().Parts, Limit: 6, Gauge: "24/4in"}}, s.Segments)
	assert.Equal(t, []Grip{band().Grip}, s.Grips)
	assert.Equal(t, band().Grip, s.GripAt(1))
	assert.Zero(t, s.CanUndo)
}

func TestCastOnComesFirstAndOnce(t *testing.T) {
	cases := []refused{{"twice", newLog(t, band()).state, band(), &RefusedError{What: "harbour band is already cast on; cast on another piece instead"}}}
	for _, e := range samples() {
		if _, begins := e.(*CastOn); !begins {
			cases = append(cases, refused{kindOf(e).String(), &State{}, e, refuseNotCastOn()})
		}
	}
	runRefused(t, cases)
}

// changedBand is the cast-on with one thing altered.
func changedBand(change func(*CastOn)) *CastOn {
	e := band()
	change(e)
	return e
}

func TestCastOnRefusesBadFields(t *testing.T) {
	runBadFields(t, &State{}, []badField{
		{"name", changedBand(func(e *CastOn) { e.Name = "" })},
		{"name", changedBand(func(e *CastOn) { e.Name = " pier" })},
		{"name", changedBand(func(e *CastOn) { e.Name = "pier\x1b[2J" })},
		{"name", changedBand(func(e *CastOn) { e.Name = "pier\xff" })},
		{"name", changedBand(func(e *CastOn) { e.Name = strings.Repeat("p", 201) })},
		{"parts", changedBand(func(e *CastOn) { e.Parts = nil })},
		{"part name", changedBand(func(e *CastOn) { e.Parts[0].Name = "" })},
		{"repeats of lights", changedBand(func(e *CastOn) { e.Parts[0].Repeats = 0 })},
		{"times of lights", changedBand(func(e *CastOn) { e.Parts[0].Times = -1 })},
		{"rows of lights", changedBand(func(e *CastOn) { e.Parts[0].Rows = 0 })},
		{"rows in all", changedBand(func(e *CastOn) { e.Parts[0].Times = 100_000 })},
		{"part plain", changedBand(func(e *CastOn) { e.Parts[1].Hash[0] = 1 })},
		{"plain rows", changedBand(func(e *CastOn) { e.Parts[1].Plain = ' ' })},
		{"repeats of plain", changedBand(func(e *CastOn) { e.Parts[1].Repeats = 2 })},
		{"gauge", changedBand(func(e *CastOn) { e.Gauge = "24\n" })},
		{"limit", changedBand(func(e *CastOn) { e.Limit = 0 })},
		{"item", changedBand(func(e *CastOn) { e.Item = 4 })},
		{"hold", changedBand(func(e *CastOn) { e.Hold = "" })},
		{"carry", changedBand(func(e *CastOn) { e.Carry = "sideways" })},
		{"method", changedBand(func(e *CastOn) { e.Method = "knot" })},
		{"dominant", changedBand(func(e *CastOn) { e.Dominant = "both" })},
		{"dominant", changedBand(func(e *CastOn) { e.Dominant = "" })},
		{"dominant", changedBand(func(e *CastOn) { e.Dominant = "\xff" })},
		{"rest limit", changedBand(func(e *CastOn) { e.RestLimit = -1 })},
		{"second of a pair", changedBand(func(e *CastOn) { e.Mirrored = true })},
		{"name of the first piece", changedBand(func(e *CastOn) { e.CopyOf = 3 })},
	})
}

func TestCastOnWords(t *testing.T) {
	pair := changedBand(func(e *CastOn) { e.Flat, e.Limit, e.CopyOf, e.FirstName = true, 1, 4, "left mitten" })
	assert.Equal(t, "cast on harbour band, in the round, two-hands, at most 6 stitches uncaught", newLog(t, band()).words(1))
	assert.Equal(t, "cast on harbour band, flat, two-hands, at most 1 stitch uncaught, the pair of left mitten", newLog(t, pair).words(1))
}

func TestItemWords(t *testing.T) {
	for i, word := range []string{General: "general", Sleeve: "sleeve", HandsFeet: "hands-feet", Baby: "baby"} {
		assert.Equal(t, word, Item(i).String())
	}
}
