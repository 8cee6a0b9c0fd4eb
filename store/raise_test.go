package store_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

var update = flag.Bool("update", false, "write the fixtures anew")

// fixture is a copy of a store file in testdata. Written anew, it is what make
// leaves behind.
func fixture(t *testing.T, name string, make func(path string)) *store.Store {
	t.Helper()
	source := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		path := filepath.Join(t.TempDir(), name)
		make(path)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(source, data, 0o644))
	}
	data, err := os.ReadFile(source)
	require.NoError(t, err)
	return asStore(t, data)
}

// makeFixture makes the store that every fixture holds, at the present schema.
func makeFixture(t *testing.T, path string) {
	s := store.At(path, store.Options{
		Writer: func() string { return "fixture" },
		Now:    func() time.Time { return noon },
	})
	require.NoError(t, s.Create(ctx))
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		hash, err := tx.PutChart([]byte("rows:\n..x..\n"))
		require.NoError(t, err)
		id, err := tx.NewPiece(hash[:])
		require.NoError(t, err)
		for _, text := range []string{"cast on", "row 1", "row 2"} {
			_, err := tx.Append(id, event(text))
			require.NoError(t, err)
		}
		return nil
	}))
}

// requireFixture demands what every fixture holds.
func requireFixture(t *testing.T, s *store.Store) {
	t.Helper()
	assert.Equal(t, []string{"cast on", "row 1", "row 2"}, payloads(t, s, 1))
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		info, err := tx.Info(1)
		require.NoError(t, err)
		chart, err := tx.Chart(store.Hash(info))
		assert.Equal(t, "rows:\n..x..\n", string(chart))
		return err
	}))
	requireSound(t, s)
}

func TestReleasedSchema1IsRead(t *testing.T) {
	s := fixture(t, "schema1.store", func(path string) { makeFixture(t, path) })
	requireFixture(t, s)
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		writer, created, err := tx.Origin()
		assert.Equal(t, "fixture", writer)
		assert.Equal(t, "2031-03-04T12:00:00-05:00", created)
		return err
	}))
	appendEvent(t, s, 1, "row 3")
	requireSound(t, s)
}

// invented is the fixture of schema 0, which was never released: it exercises the
// raising.
func invented(t *testing.T) *store.Store {
	return fixture(t, "schema0.store", func(path string) {
		makeFixture(t, path)
		require.NoError(t, store.Lower(path))
	})
}

func TestOlderSchemaIsRaisedAfterAVerifiedBackup(t *testing.T) {
	s := store.WithInventedRaise(invented(t))
	requireFixture(t, s)
	all, err := s.Backups()
	require.NoError(t, err)
	require.Len(t, all, 1)
	assert.Equal(t, store.ReasonRaise, all[0].Reason)
	old := store.WithInventedRaise(at(all[0].Path))
	requireFixture(t, old)
}

func TestOlderSchemaIsRaisedByAStepToo(t *testing.T) {
	s := store.WithInventedRaise(invented(t))
	appendEvent(t, s, 1, "row 3")
	assert.Len(t, payloads(t, s, 1), 4)
}

func TestOlderSchemaStaysWhenTheBackupFails(t *testing.T) {
	s := store.WithInventedRaise(invented(t))
	require.NoError(t, os.WriteFile(s.BackupFolder(), nil, 0o600))
	before, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	require.Error(t, s.View(ctx, func(*store.Tx) error { return nil }))
	after, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

func TestCheckOfAnOlderSchemaChangesNothing(t *testing.T) {
	s := invented(t)
	before, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	report := requireSound(t, s)
	assert.Zero(t, report.Contents.Schema)
	after, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

func TestKilledWhileRaising(t *testing.T) {
	t.Parallel()
	for range rounds(15, 200) {
		s := invented(t)
		killed(t, 10*time.Millisecond, "raise", s.Path())
		requireFixture(t, store.WithInventedRaise(s))
		all, err := s.Backups()
		require.NoError(t, err)
		require.NotEmpty(t, all)
	}
}
