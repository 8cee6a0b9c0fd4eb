package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRenamedState(t *testing.T) {
	l := newLog(t, band(), &Renamed{Name: "pier band"})
	assert.Equal(t, "pier band", l.state.Setup.Name)
	assert.Equal(t, "renamed to pier band", l.words(2))
	runBadFields(t, l.state, []badField{
		{"name", &Renamed{Name: "pier band"}},
		{"name", &Renamed{}},
	})
	l.undo()
	assert.Equal(t, "harbour band", l.state.Setup.Name)
}
