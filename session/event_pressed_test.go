package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A press keeps its number through an undoing; all else is as if its event had been logged alone.
func TestAPressIsKnownEvenUndone(t *testing.T) {
	l := newLog(t, band())
	row := &RowKnit{Row: 1}
	l.add(&Pressed{Event: row, Press: "a1"})
	require.Equal(t, 1, l.state.Row)
	undone := &Undone{Seq: l.state.CanUndo}
	l.add(&Pressed{Event: undone, Press: "b2"})
	assert.Zero(t, l.state.Row)
	for press, known := range map[string]bool{"a1": true, "b2": true, "c3": false, "": false} {
		assert.Equal(t, known, l.state.HasPress(press), press)
	}
	plain := newLog(t, band())
	plain.add(row)
	plain.add(undone)
	for i, e := range l.state.Log {
		e.Press = ""
		assert.Equal(t, plain.state.Log[i], e, "all else is as if logged alone")
	}
}

func TestAPressLogsNoCastOn(t *testing.T) {
	for _, e := range []Event{&Pressed{Event: band(), Press: "a"}, &Pressed{Event: &Paused{}, Press: ""}, &Pressed{Event: &Pressed{Event: &Paused{}, Press: "a"}, Press: "b"}} {
		_, err := Decode(Encode(e))
		assert.ErrorContains(t, err, "it is no press")
	}
}
