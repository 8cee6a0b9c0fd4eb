package cmd

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/store"
)

// longLog is a store with a piece whose log is long enough for a brief, made by the
// program itself.
func longLog(t *testing.T) string {
	t.Helper()
	path := seededStore(t, planted("hat", 3))
	for range 2 {
		require.Zero(t, onStore(t, path, "knit", "--to", "55", "--quiet").code)
		require.Zero(t, onStore(t, path, "rip", "52", "--yes", "--quiet").code)
	}
	require.Zero(t, onStore(t, path, "knit").code)
	return path
}

// openedBothWays opens the first piece by its brief and by its log.
func openedBothWays(t *testing.T, path string) (brief, whole *atHand) {
	t.Helper()
	inStore(t, path, func(tx *store.Tx) (err error) {
		if whole, err = open(tx, "hat"); err != nil {
			return err
		}
		brief, err = openBrief(tx, "hat")
		return err
	})
	return brief, whole
}

func TestBriefIsMadeNowAndThen(t *testing.T) {
	path := longLog(t)
	brief, whole := openedBothWays(t, path)
	first := brief.upTo
	assert.Positive(t, first)
	assert.LessOrEqual(t, first, whole.State.LastSeq)
	for range briefEvery {
		brief, whole = openedBothWays(t, path)
		assert.Less(t, whole.State.LastSeq, brief.upTo+briefEvery)
		require.Equal(t, whole.State.Brief(), brief.State.Brief())
		done(t, path, "knit")
	}
	brief, _ = openedBothWays(t, path)
	assert.Greater(t, brief.upTo, first)
}

// Every command of every row, and what makes it open the whole log, on two stores of
// which one has its briefs thrown away each time: they never differ.
func TestStepsByBriefAreStepsByLog(t *testing.T) {
	steps := [][]string{
		{"knit"},
		{"knit", "--missed", "5"},
		{"knit", "--to", "50"},
		{"rip", "3", "--yes"},
		{"rip", "40", "--yes"},
		{"pause", "7"},
		{"rip"},
		{"note", "slack water"},
		{"undo"},
		{"redo"},
		{"hold", "--hold", "one-at-a-time"},
		{"show"},
		{"show", "--json"},
		{"knit", "--json"},
		{"resume"},
	}
	data, err := os.ReadFile(longLog(t))
	require.NoError(t, err)
	rapid.Check(t, func(r *rapid.T) {
		folder := t.TempDir()
		with, without := filepath.Join(folder, "with.store"), filepath.Join(folder, "without.store")
		require.NoError(t, errors.Join(os.WriteFile(with, data, 0o600), os.WriteFile(without, data, 0o600)))
		for n := range rapid.IntRange(1, 6).Draw(r, "steps") {
			inStore(t, without, func(tx *store.Tx) error { return dropBrief(tx, 1) })
			step, at := rapid.SampledFrom(steps).Draw(r, "step"), seedTime.AddDate(0, 0, 1).Add(time.Duration(n)*time.Minute)
			a, b := onStoreAt(t, at, with, step...), onStoreAt(t, at, without, step...)
			require.Equal(r, []any{b.code, b.out, b.err}, []any{a.code, a.out, a.err}, step)
		}
		require.Equal(r, onStore(t, without, "history", "--json").out, onStore(t, with, "history", "--json").out)
	})
}

func TestBriefThatDoesNotFitIsPassedOver(t *testing.T) {
	for name, spoil := range map[string]func(mark store.Mark, brief []byte) []byte{
		"of another log": func(mark store.Mark, brief []byte) []byte {
			mark.CRC++
			return joinBrief(mark, brief)
		},
		"longer than the log": func(mark store.Mark, brief []byte) []byte {
			mark.Seq += 1000
			return joinBrief(mark, brief)
		},
		"of another version": func(mark store.Mark, brief []byte) []byte {
			return joinBrief(mark, append([]byte{brief[0] + 1}, brief[1:]...))
		},
		"cut short": func(mark store.Mark, brief []byte) []byte { return joinBrief(mark, brief[:len(brief)-1]) },
		"no brief":  func(mark store.Mark, _ []byte) []byte { return joinBrief(mark, nil) },
		"a number":  func(store.Mark, []byte) []byte { return []byte{9} },
		"no mark":   func(store.Mark, []byte) []byte { return []byte{9, 255, 255, 255, 255, 255, 1} },
		"empty":     func(store.Mark, []byte) []byte { return nil },
	} {
		t.Run(name, func(t *testing.T) {
			path := longLog(t)
			inStore(t, path, func(tx *store.Tx) error {
				key, err := briefName(tx, 1)
				require.NoError(t, err)
				kept, ok := tx.Cache(key)
				require.True(t, ok)
				mark, brief, ok := splitBrief(kept)
				require.True(t, ok)
				return tx.PutCache(key, spoil(mark, append([]byte(nil), brief...)))
			})
			brief, whole := openedBothWays(t, path)
			assert.Zero(t, brief.upTo)
			assert.Equal(t, whole.State.Log(), brief.State.Log())
		})
	}
}

func TestBriefGoesWithItsPiece(t *testing.T) {
	path := longLog(t)
	var key []byte
	inStore(t, path, func(tx *store.Tx) (err error) {
		key, err = briefName(tx, 1)
		return err
	})
	done(t, path, "pieces", "remove", "hat", "--yes")
	inStore(t, path, func(tx *store.Tx) error {
		_, ok := tx.Cache(key)
		assert.False(t, ok)
		return nil
	})
}
