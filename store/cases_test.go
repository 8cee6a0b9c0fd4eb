package store_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// copies are the ways in which a store comes to be a copy of another.
var copies = map[string]func(t *testing.T, s *store.Store) *store.Store{
	"import": func(t *testing.T, s *store.Store) *store.Store {
		other := fresh(t)
		_, err := imports(other, exported(t, s), store.ImportOptions{})
		require.NoError(t, err)
		return other
	},
	"restore": func(t *testing.T, s *store.Store) *store.Store {
		made, err := s.Backup(ctx, store.ReasonAsked)
		require.NoError(t, err)
		_, err = s.Restore(ctx, made.Path, store.RestoreOptions{})
		require.NoError(t, err)
		return s
	},
	"restore to a new place": func(t *testing.T, s *store.Store) *store.Store {
		other := at(filepath.Join(t.TempDir(), "pier.store"))
		_, err := other.Restore(ctx, s.Path(), store.RestoreOptions{})
		require.NoError(t, err)
		return other
	},
	"salvage": func(t *testing.T, s *store.Store) *store.Store {
		_, other := salvaged(t, s)
		return other
	},
}

// The headers of a copy stand otherwise than those of a store that grew: no false alarm comes
// of that, and either may be lost.
func TestStepsOnACopyWarnOfNothing(t *testing.T) {
	for name, copied := range copies {
		for commits := range 8 {
			s := fresh(t)
			id := newPiece(t, s, "pier")
			for n := range commits {
				appendEvent(t, s, id, fmt.Sprint(n))
			}
			other := copied(t, s)
			for n := range 4 {
				requireNoWarning(t, other, name)
				lostHeader(t, other, id, commits+n)
				appendEvent(t, other, id, "more")
			}
			requireSound(t, other)
			made, err := other.Backup(ctx, store.ReasonAsked)
			require.NoError(t, err, name)
			requireNoWarning(t, at(made.Path), name)
		}
	}
}

func requireNoWarning(t *testing.T, s *store.Store, name string) {
	t.Helper()
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		require.Empty(t, tx.Warnings(), name)
		return nil
	}))
	require.Empty(t, requireSound(t, s).Warnings, name)
}

// lostHeader spoils either header of a copy of a store: it is read, at most without what was
// saved last, and with a warning.
func lostHeader(t *testing.T, s *store.Store, id store.PieceID, events int) {
	t.Helper()
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	for slot := range 2 {
		spoiled := bytes.Clone(data)
		spoiled[slot*page+16+40] ^= 1
		other := asStore(t, spoiled)
		require.NoError(t, other.View(ctx, func(tx *store.Tx) error {
			require.NotEmpty(t, tx.Warnings())
			if tail, err := tx.Tail(id); err == nil {
				require.GreaterOrEqual(t, int(tail.Seq), events-1)
			}
			return nil
		}))
	}
}

// What was saved last is not in the state that a bad header leaves; it is in the file.
func TestSalvageFindsWhatABadHeaderHides(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one", "two")
	appendEvent(t, s, id, "three")
	rewrite(t, s, func(d []byte) []byte { d[newestHeader(t, d).slot*page+16+40] ^= 1; return d })
	_, err := s.Export(ctx, &bytes.Buffer{})
	require.Equal(t, store.ClassDamaged, store.ClassOf(err))
	require.Equal(t, store.ClassDamaged, store.ClassOf(backupError(s)))
	report, err := s.Check(ctx)
	require.NoError(t, err)
	require.Len(t, report.Problems, 1)
	_, copied := salvaged(t, s)
	assert.Equal(t, []string{"one", "two", "three"}, payloads(t, copied, id))
}

func TestNewestBackupIsNotTheOneOfAClockThatRanAhead(t *testing.T) {
	now := time.Date(2041, 1, 1, 9, 0, 0, 0, time.Local)
	s := clocked(t, &now)
	id := newPiece(t, s, "pier", "one")
	_, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	now = now.AddDate(-10, 0, 0)
	appendEvent(t, s, id, "two")
	newest, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	all, err := s.Backups()
	require.NoError(t, err)
	require.Len(t, all, 2)
	assert.Equal(t, newest.Path, all[1].Path)
	require.NoError(t, os.Truncate(s.Path(), 100))
	var e *store.Error
	require.ErrorAs(t, s.View(ctx, func(*store.Tx) error { return nil }), &e)
	assert.Equal(t, newest.Path, e.Backup)
}

func TestLeftoversOfKilledRunsAreTakenAway(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one")
	_, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	folder, backups := filepath.Dir(s.Path()), s.BackupFolder()
	old := time.Now().Add(-25 * time.Hour)
	leave := func(name string, at time.Time) string {
		require.NoError(t, os.WriteFile(name, []byte("half"), 0o600))
		require.NoError(t, os.Chtimes(name, at, at))
		return name
	}
	gone := []string{leave(filepath.Join(folder, ".pier.store.new-1"), old), leave(filepath.Join(backups, ".pier.store.new-2"), old)}
	kept := []string{
		leave(filepath.Join(folder, ".pier.store.new-3"), time.Now()), leave(filepath.Join(folder, "pier.store.new-4"), old),
		leave(filepath.Join(folder, ".mole.store.new-5"), old),
	}
	require.NoError(t, s.View(ctx, func(*store.Tx) error { return nil }))
	assert.FileExists(t, gone[0], "a read takes nothing away")
	appendEvent(t, s, id, "two")
	for _, name := range gone {
		assert.NoFileExists(t, name)
	}
	for _, name := range kept {
		assert.FileExists(t, name)
	}
}

func TestLinkedStoreHasOneFolderOfBackups(t *testing.T) {
	s := fresh(t)
	link := filepath.Join(t.TempDir(), "link.store")
	require.NoError(t, os.Symlink(s.Path(), link))
	assert.Equal(t, s.BackupFolder(), at(link).BackupFolder())
	_, err := at(link).Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	assert.NoDirExists(t, link+".backups")
}

// One bit in a setting is seen by whatever opens the store.
func TestSettingThatWasChangedIsDamage(t *testing.T) {
	s := fresh(t)
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error { return tx.PutSetting("piece", []byte("the pier hat")) }))
	rewrite(t, s, func(d []byte) []byte { return bytes.ReplaceAll(d, []byte("the pier hat"), []byte("the pier iat")) })
	requireRefused(t, s, store.ClassDamaged, "the settings are not the ones written last")
}
