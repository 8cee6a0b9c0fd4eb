package cmd

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/session"
	"strandwise/store"
)

// Rows that come back are to be shown as they will be after the next look into the
// store: caught as the first was.
func TestASecondThatLosesRowsFollowsItsFirst(t *testing.T) {
	path := seededStore(t, planted("hat", 0))
	got := onStore(t, path, "knit", "--to", "6")
	require.Zero(t, got.code, got.err)
	got = onStore(t, path, "knit", "--moved", "6:7")
	require.Zero(t, got.code, got.err)
	got = onStore(t, path, "pieces", "copy", "second")
	require.Zero(t, got.code, got.err)
	got = onStore(t, path, "knit", "--to", "7")
	require.Zero(t, got.code, got.err)
	for word, step := range map[string]func(*session.State) session.Event{
		"undone": func(s *session.State) session.Event { return &session.Undone{Seq: s.CanUndo} },
		"ripped": func(*session.State) session.Event { return &session.Ripped{Rows: 1} },
	} {
		inStore(t, path, func(tx *store.Tx) error {
			p, err := open(tx, "second")
			require.NoError(t, err)
			require.NoError(t, pairUp(tx, p))
			require.NotNil(t, p.first)
			before, made := p.State, p.State.DoneRow(7).Used
			require.Equal(t, p.first.State.DoneRow(7).Used, made)
			p.State, err = before.With(step(before))
			require.NoError(t, err)
			p, err = reopen(tx, p, before)
			require.NoError(t, err)
			assert.Equal(t, made, p.Schedule.Row(7), word)
			return nil
		})
	}
}
