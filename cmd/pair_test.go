package cmd

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

// Rows that come back are to be shown as they will be after the next look into the
// store: caught as the first was.
func TestASecondThatLosesRowsFollowsItsFirst(t *testing.T) {
	path := seededStore(t, planted("hat", 0))
	got := onStore(t, path, "knit", "--to", "6")
	require.Zero(t, got.code, got.err)
	got = onStore(t, path, "knit", "--moved", "a+1")
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
			p, err := stored.Open(tx, "second", "%s")
			require.NoError(t, err)
			require.NotNil(t, p.First)
			before, made := p.State, p.State.DoneRow(7).Used
			require.Equal(t, p.First.State.DoneRow(7).Used, made)
			p.State, err = before.With(step(before))
			require.NoError(t, err)
			p, err = stored.Reopen(tx, p)
			require.NoError(t, err)
			assert.Equal(t, made, p.Schedule.Row(7), word)
			return nil
		})
	}
}

// The first of a pair is known by its number, wherever its name went; another piece that
// has its name now is not taken for it.
func TestFirstOfAPairThatWasRenamed(t *testing.T) {
	for _, args := range [][]string{{"left"}, {"left", "--mirrored"}} {
		path := seededStore(t, planted("right", 2))
		done(t, path, append([]string{"pieces", "copy"}, args...)...)
		done(t, path, "pieces", "rename", "right", "old")
		done(t, path, "cast-on", "right", "../examples/pier-panel.chart")
		firstIs(t, path, "left", "old")
		done(t, path, "pieces", "remove", "old", "--yes")
		firstIs(t, path, "left", "")
	}
}

// Elsewhere the first has another number, and its name speaks for it where its charts do.
func TestFirstOfAPairThatWasCarriedElsewhere(t *testing.T) {
	for _, args := range [][]string{{"left"}, {"left", "--mirrored"}} {
		from := seededStore(t, planted("right", 2))
		done(t, from, append([]string{"pieces", "copy"}, args...)...)
		path := filepath.Join(t.TempDir(), "pieces.store")
		done(t, path, "cast-on", "panel", "../examples/pier-panel.chart")
		done(t, path, "store", "import", carried(t, from), "--yes")
		firstIs(t, path, "left", "right")
	}
}

// firstIs wants a piece to follow the one named; empty is none.
func firstIs(t *testing.T, path, second, want string) {
	t.Helper()
	inStore(t, path, func(tx *store.Tx) error {
		p, err := stored.Open(tx, second, "%s")
		require.NoError(t, err)
		name := ""
		if p.First != nil {
			name = p.First.State.Setup.Name
		}
		assert.Equal(t, want, name)
		return nil
	})
}

// The first of a pair is caught oftener than need be under the limit its second has: what the
// second takes over so is its plan, also where its row below is caught otherwise.
func TestTheSecondKeepsWhatItsFirstHasMoreOf(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pair.store")
	for _, line := range []string{
		"cast-on first ../examples/practice.chart@2 --limit 3 --method twist",
		"knit", "knit --extra 7", "knit --to 4", "replan --limit 5", "pieces copy second",
		"knit --missed a@2", "show --json",
	} {
		got := onStore(t, path, strings.Fields(line)...)
		require.Less(t, int(got.code), 2, "%s\n%s", line, got.err)
	}
}
