package store_test

import (
	"context"
	"crypto/sha256"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

var ctx = context.Background()

// fresh is a new, empty store in a folder of its own.
func fresh(t testing.TB) *store.Store {
	t.Helper()
	s := store.At(filepath.Join(t.TempDir(), "pier.store"), store.Options{Writer: func() string { return "test" }})
	require.NoError(t, s.Create(ctx))
	return s
}

// noon is a time with a zone that is neither UTC nor the local one.
var noon = time.Date(2031, 3, 4, 12, 0, 0, 123456789, time.FixedZone("", -5*3600))

// event is an invented record.
func event(text string) store.Record {
	return store.Record{Kind: 7, Time: noon, Payload: []byte(text)}
}

// newPiece makes a piece and appends events to it.
func newPiece(t testing.TB, s *store.Store, info string, events ...string) store.PieceID {
	t.Helper()
	var id store.PieceID
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		var err error
		if id, err = tx.NewPiece([]byte(info)); err != nil {
			return err
		}
		for _, e := range events {
			if _, err := tx.Append(id, event(e)); err != nil {
				return err
			}
		}
		return nil
	}))
	return id
}

// appendEvent appends one event.
func appendEvent(t testing.TB, s *store.Store, id store.PieceID, text string) {
	t.Helper()
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		_, err := tx.Append(id, event(text))
		return err
	}))
}

// payloads reads the whole log of a piece.
func payloads(t testing.TB, s *store.Store, id store.PieceID) []string {
	t.Helper()
	var all []string
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		log, err := tx.Records(id)
		for _, r := range log {
			all = append(all, string(r.Payload))
		}
		return err
	}))
	return all
}

func TestAppendedEventsAreReadBackInOrder(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "mooring", "one", "two", "three")
	assert.Equal(t, []string{"one", "two", "three"}, payloads(t, s, id))
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		all, err := tx.Records(id)
		require.NoError(t, err)
		require.Len(t, all, 3)
		for _, r := range all {
			assert.Equal(t, uint16(7), r.Kind)
			assert.True(t, r.Time.Equal(noon))
			assert.Equal(t, noon.Format(time.RFC3339Nano), r.Time.Format(time.RFC3339Nano))
		}
		info, err := tx.Info(id)
		assert.Equal(t, "mooring", string(info))
		return err
	}))
}

func TestChartsSettingsAndCacheAreKept(t *testing.T) {
	s := fresh(t)
	var hash store.Hash
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		var err error
		hash, err = tx.PutChart([]byte("..x..\n"))
		require.NoError(t, err)
		again, err := tx.PutChart([]byte("..x..\n"))
		require.NoError(t, err)
		assert.Equal(t, hash, again)
		require.NoError(t, tx.PutSetting("hold", []byte("left")))
		require.NoError(t, tx.PutSetting("hold", []byte("both")))
		require.NoError(t, tx.PutSetting("pause", []byte("30")))
		require.NoError(t, tx.DeleteSetting("pause"))
		return tx.PutCache([]byte("fold"), []byte("state"))
	}))
	assert.Equal(t, store.Hash(sha256.Sum256([]byte("..x..\n"))), hash)
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		chart, err := tx.Chart(hash)
		require.NoError(t, err)
		assert.Equal(t, "..x..\n", string(chart))
		value, ok := tx.Setting("hold")
		assert.True(t, ok)
		assert.Equal(t, "both", string(value))
		assert.Equal(t, []string{"hold"}, tx.Settings())
		cached, ok := tx.Cache([]byte("fold"))
		assert.True(t, ok)
		assert.Equal(t, "state", string(cached))
		_, err = tx.Chart(store.Hash{})
		assert.Equal(t, store.ClassDamaged, store.ClassOf(err))
		return nil
	}))
}

func TestRemovedPieceIsGoneAndItsNumberStaysTaken(t *testing.T) {
	s := fresh(t)
	first := newPiece(t, s, "first", "a")
	second := newPiece(t, s, "second", "b")
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error { return tx.RemovePiece(second) }))
	third := newPiece(t, s, "third", "c")
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		assert.Equal(t, []store.PieceID{first, third}, tx.Pieces())
		_, gone := tx.Info(second)
		assert.ErrorIs(t, gone, store.ErrNoPiece)
		return nil
	}))
	assert.NotEqual(t, second, third)
}

func TestARefusalLeavesTheFileAsItWas(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one")
	before, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	refusal := assert.AnError
	err = s.Update(ctx, func(tx *store.Tx) error {
		_, err := tx.Append(id, event("two"))
		require.NoError(t, err)
		return refusal
	})
	require.ErrorIs(t, err, refusal)
	require.NoError(t, s.Update(ctx, func(*store.Tx) error { return nil }))
	after, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

func TestAChangeInsideAViewIsRefused(t *testing.T) {
	s := fresh(t)
	require.Error(t, s.View(ctx, func(tx *store.Tx) error {
		_, err := tx.NewPiece(nil)
		return err
	}))
}

// What is done at the beginning is done for the store alone: its backups are looked at too,
// and hold something else.
func TestBeginIsOfTheStoreAlone(t *testing.T) {
	begun := 0
	s := store.At(filepath.Join(t.TempDir(), "pieces.store"), store.Options{Begin: func(*store.Tx) { begun++ }})
	require.NoError(t, s.Create(t.Context()))
	require.NoError(t, s.Update(t.Context(), func(tx *store.Tx) error { return tx.PutSetting("width", []byte("44")) }))
	require.NoError(t, s.View(t.Context(), func(*store.Tx) error { return nil }))
	require.Equal(t, 2, begun)
	_, err := s.Backup(t.Context(), store.ReasonAsked)
	require.NoError(t, err)
	backups, err := s.Backups()
	require.NoError(t, err)
	assert.Len(t, backups, 1)
	assert.Equal(t, 2, begun)
}
