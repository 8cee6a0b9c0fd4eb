package store_test

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

func TestFileCutShortWhileItIsRead(t *testing.T) {
	s, id := long(t, 3000)
	err := s.View(ctx, func(tx *store.Tx) error {
		require.NoError(t, os.Truncate(s.Path(), 3*page))
		_, err := tx.Records(id)
		return err
	})
	require.Equal(t, store.ClassDamaged, store.ClassOf(err), "%v", err)
}

func TestOneBitInOneEventNamesItAndSparesTheOthers(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one", "the marked event", "three")
	other := newPiece(t, s, "buoy", "one", "two")
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	for at := 0; ; {
		found := bytes.Index(data[at:], []byte("the marked event"))
		if found < 0 {
			break
		}
		at += found
		data[at] ^= 4
	}
	require.NoError(t, os.WriteFile(s.Path(), data, 0o600))
	_, err = contents(s)
	var e *store.Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, store.ClassDamaged, e.Class)
	assert.Equal(t, id, e.Piece)
	assert.Equal(t, uint64(2), e.Seq)
	assert.Equal(t, []string{"one", "two"}, payloads(t, s, other))
	appendEvent(t, s, other, "three")
	report, err := s.Check(ctx)
	require.NoError(t, err)
	require.Len(t, report.Problems, 1)
	assert.Equal(t, &store.Error{Class: store.ClassDamaged, Piece: id, Seq: 2, What: e.What}, report.Problems[0])
}

func TestWatchdogGivesUpAndNothingIsCommitted(t *testing.T) {
	path := fresh(t).Path()
	s := store.At(path, store.Options{Watch: 50 * time.Millisecond})
	var stop atomic.Bool
	done := make(chan bool)
	err := s.Update(ctx, func(tx *store.Tx) error {
		defer close(done)
		for !stop.Load() {
			time.Sleep(time.Millisecond)
		}
		_, err := tx.NewPiece([]byte("too late"))
		return err
	})
	require.Equal(t, store.ClassDamaged, store.ClassOf(err))
	assert.Contains(t, err.Error(), "did not end within 50ms")
	stop.Store(true)
	<-done
	patient := store.At(path, store.Options{})
	require.NoError(t, patient.View(ctx, func(tx *store.Tx) error {
		assert.Empty(t, tx.Pieces())
		return nil
	}))
}

func TestPanicOfTheCallerIsNotTakenForDamage(t *testing.T) {
	s := fresh(t)
	defer func() {
		said := fmt.Sprint(recover())
		assert.True(t, strings.HasPrefix(said, "our own mistake\n"), said)
		assert.Contains(t, said, "TestPanicOfTheCaller", "the stack of the place")
		newPiece(t, s, "still usable")
	}()
	_ = s.Update(ctx, func(*store.Tx) error { panic("our own mistake") })
}

func TestFaultOfTheRuntimeInTheCallerIsNotTakenForDamage(t *testing.T) {
	s := fresh(t)
	rows := []string{"only one"}
	assert.Panics(t, func() {
		_ = s.View(ctx, func(tx *store.Tx) error {
			_ = rows[len(tx.Pieces())+1]
			return nil
		})
	})
}

func TestNewerSchemaIsRefusedWithBothNumbers(t *testing.T) {
	s := fresh(t)
	require.NoError(t, store.SetSchema(s.Path(), "99"))
	requireRefused(t, s, store.ClassNewer, "schema 99 and this program knows schema 1")
}

func TestSchemaFromWhichThereIsNoWay(t *testing.T) {
	s := fresh(t)
	require.NoError(t, store.Lower(s.Path()))
	err := s.View(ctx, func(*store.Tx) error { return nil })
	require.Equal(t, store.ClassForeign, store.ClassOf(err))
}

func TestClockSetBackAndZoneChanged(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier")
	times := []time.Time{noon, noon.AddDate(-1, 0, 0).UTC(), noon.In(time.FixedZone("", 5*3600+1800))}
	for _, at := range times {
		require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
			_, err := tx.Append(id, store.Record{Kind: 1, Time: at})
			return err
		}))
	}
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		all, err := tx.Records(id)
		require.NoError(t, err)
		require.Len(t, all, len(times))
		for _, r := range all {
			assert.Equal(t, times[r.Seq-1].Format(time.RFC3339Nano), r.Time.Format(time.RFC3339Nano))
		}
		return nil
	}))
	require.Error(t, s.Update(ctx, func(tx *store.Tx) error {
		_, err := tx.Append(id, store.Record{Time: time.Date(12000, 1, 1, 0, 0, 0, 0, time.UTC)})
		return err
	}))
}

func TestDamagedCacheIsAWarningOnly(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one")
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		return tx.PutCache([]byte("fold"), bytes.Repeat([]byte("cached"), 3000))
	}))
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	at := bytes.Index(data, []byte("cachedcached"))
	require.Positive(t, at)
	clear(data[at/page*page : at/page*page+page])
	require.NoError(t, os.WriteFile(s.Path(), data, 0o600))
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		_, ok := tx.Cache([]byte("fold"))
		assert.False(t, ok)
		require.NoError(t, tx.PutCache([]byte("fold"), []byte("again")))
		require.NotEmpty(t, tx.Warnings())
		assert.Contains(t, tx.Warnings()[0].Text, "the cache cannot be used")
		_, err := tx.Append(id, event("two"))
		return err
	}))
	assert.Equal(t, []string{"one", "two"}, payloads(t, s, id))
	report, err := s.Check(ctx)
	require.NoError(t, err)
	assert.NotEmpty(t, report.Problems)
}
