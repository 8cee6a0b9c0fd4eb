package store_test

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// clocked is a fresh store with a clock that the test sets.
func clocked(t *testing.T, now *time.Time) *store.Store {
	t.Helper()
	s := store.At(filepath.Join(t.TempDir(), "pier.store"), store.Options{Now: func() time.Time { return *now }})
	require.NoError(t, s.Create(ctx))
	return s
}

func newest(t *testing.T, s *store.Store) store.Backup {
	t.Helper()
	all, err := s.Backups()
	require.NoError(t, err)
	require.NotEmpty(t, all)
	return all[len(all)-1]
}

func TestDailyBackupOnceADayAndRotation(t *testing.T) {
	now := time.Date(2031, 1, 1, 9, 0, 0, 0, time.Local)
	s := clocked(t, &now)
	id := newPiece(t, s, "pier")
	for day := range 60 {
		appendEvent(t, s, id, fmt.Sprint("day ", day))
		require.NoError(t, s.DailyBackup(ctx))
		made := newest(t, s)
		require.Equal(t, now.Format(time.DateOnly), made.Made.Format(time.DateOnly))
		require.NoError(t, s.DailyBackup(ctx))
		require.Equal(t, made, newest(t, s), "there is one of that day")
		now = now.AddDate(0, 0, 1)
	}
	all, err := s.Backups()
	require.NoError(t, err)
	var days []string
	for _, b := range all {
		days = append(days, b.Made.Format("01-02"))
		assert.Equal(t, store.ReasonDaily, b.Reason)
		requireSound(t, at(b.Path))
	}
	// The last of 60 days is 1 March 2031, a Saturday: seven days back to 23
	// February, and the Sundays that end the weeks of 10 to 16 February and before.
	assert.Equal(t, []string{"02-09", "02-16", "02-23", "02-24", "02-25", "02-26", "02-27", "02-28", "03-01"}, days)
	assert.Len(t, payloads(t, at(all[len(all)-1].Path), id), 60)
}

func TestBackupMadeWithTheClockSetBackStays(t *testing.T) {
	now := time.Date(2031, 1, 1, 9, 0, 0, 0, time.Local)
	s := clocked(t, &now)
	for range 9 {
		_, err := s.Backup(ctx, store.ReasonAsked)
		require.NoError(t, err)
		now = now.AddDate(0, 0, 7)
	}
	now = now.AddDate(-1, 0, 0)
	made, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	_, err = os.Stat(made.Path)
	require.NoError(t, err)
}

func TestBackupsBeforeRaisingAreNeverRotatedOut(t *testing.T) {
	var all []store.Backup
	for day := range 100 {
		made := time.Date(2031, 1, 1, 9, 0, 0, 0, time.UTC).AddDate(0, 0, day)
		reason := store.ReasonDaily
		if day == 3 {
			reason = store.ReasonRaise
		}
		all = append(all, store.Backup{Path: fmt.Sprint(day), Made: made, Reason: reason})
	}
	kept := store.Keep(all)
	assert.True(t, kept["3"])
	assert.False(t, kept["4"])
	assert.True(t, kept["93"])
	assert.True(t, kept["88"], "the last of its week")
	assert.True(t, kept["81"], "the last of its week")
	assert.Len(t, kept, 1+7+2, "the two newest weeks end within the seven days")
}

func TestFailedBackupIsAnErrorOfItsOwn(t *testing.T) {
	s := fresh(t)
	newPiece(t, s, "pier", "one")
	require.NoError(t, os.WriteFile(s.BackupFolder(), nil, 0o600)) // a file where the folder should be
	err := s.DailyBackup(ctx)
	require.Equal(t, store.ClassUnusable, store.ClassOf(err))
	requireSound(t, s)
}

func TestRestorePutsTheFormerStoreAside(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one")
	made, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	appendEvent(t, s, id, "two")
	newPiece(t, s, "buoy", "a")
	before, err := os.ReadFile(s.Path())
	require.NoError(t, err)

	dry, err := s.Restore(ctx, made.Path, store.RestoreOptions{DryRun: true})
	require.NoError(t, err)
	require.Len(t, dry.Changes, 2)
	assert.Equal(t, []uint64{2, 1}, []uint64{dry.Changes[0].Before, dry.Changes[0].After})
	assert.True(t, dry.Changes[1].Here)
	assert.False(t, dry.Changes[1].There)
	assert.Equal(t, "buoy", string(dry.Changes[1].Info))
	now, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	assert.Equal(t, before, now)

	done, err := s.Restore(ctx, made.Path, store.RestoreOptions{})
	require.NoError(t, err)
	assert.Equal(t, dry.Changes, done.Changes)
	assert.Equal(t, []string{"one"}, payloads(t, s, id))
	aside, err := os.ReadFile(done.Aside)
	require.NoError(t, err)
	assert.Equal(t, before, aside)
}

func TestRestoreOverADamagedOrMissingStore(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one")
	made, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	require.NoError(t, os.Truncate(s.Path(), 100))
	done, err := s.Restore(ctx, made.Path, store.RestoreOptions{})
	require.NoError(t, err)
	assert.NotEmpty(t, done.Unreadable)
	assert.Equal(t, []string{"one"}, payloads(t, s, id))
	require.NoError(t, os.Remove(s.Path()))
	done, err = s.Restore(ctx, made.Path, store.RestoreOptions{})
	require.NoError(t, err)
	assert.Empty(t, done.Aside)
	assert.Equal(t, []string{"one"}, payloads(t, s, id))
}

func TestRestoreFromADamagedBackupIsRefused(t *testing.T) {
	s, id := long(t, 100)
	made, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	require.NoError(t, os.Truncate(made.Path, 5*page))
	_, err = s.Restore(ctx, made.Path, store.RestoreOptions{})
	require.Equal(t, store.ClassDamaged, store.ClassOf(err))
	assert.Contains(t, err.Error(), made.Path)
	assert.Len(t, payloads(t, s, id), 100)
}

func TestRestoringUnderTwoWritersLosesNoLaterStep(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier")
	made, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	var all sync.WaitGroup
	for w := range 2 {
		all.Go(func() {
			for i := range 60 {
				err := s.Update(ctx, func(tx *store.Tx) error {
					_, err := tx.Append(id, event(fmt.Sprint(w, " ", i)))
					return err
				})
				assert.NoError(t, err)
			}
		})
	}
	asides := 0
	for range 8 {
		done, err := s.Restore(ctx, made.Path, store.RestoreOptions{})
		require.NoError(t, err)
		require.NotEmpty(t, done.Aside)
		asides++
		time.Sleep(5 * time.Millisecond)
	}
	all.Wait()
	// Every acknowledged step is in the present store or in one put aside: each
	// file continues the backup, so the numbers of events add up.
	total := len(payloads(t, s, id))
	files, err := filepath.Glob(s.Path() + ".aside-*")
	require.NoError(t, err)
	require.Len(t, files, asides)
	for _, file := range files {
		requireSound(t, at(file))
		total += len(payloads(t, at(file), id))
	}
	assert.Equal(t, 120, total)
}

func TestBackupsUnderTwoWritersAreSound(t *testing.T) {
	s := fresh(t)
	newPiece(t, s, "pier")
	var all sync.WaitGroup
	for range 2 {
		all.Go(func() { run(t, "steps", s.Path(), "1", "80", "row") })
	}
	for range 20 {
		made, err := s.Backup(ctx, store.ReasonAsked)
		require.NoError(t, err)
		requireSound(t, at(made.Path))
	}
	all.Wait()
}

func TestBackupOfNoStoreMakesNothing(t *testing.T) {
	s := at(filepath.Join(t.TempDir(), "quay", "pier.store"))
	_, err := s.Backup(ctx, store.ReasonAsked)
	assert.Equal(t, store.ClassMissing, store.ClassOf(err))
	assert.NoDirExists(t, filepath.Dir(s.Path()))
}

func TestRestoreThroughALinkKeepsTheLink(t *testing.T) {
	real := fresh(t)
	id := newPiece(t, real, "pier", "one")
	link := filepath.Join(t.TempDir(), "link.store")
	require.NoError(t, os.Symlink(real.Path(), link))
	s := at(link)
	made, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	appendEvent(t, s, id, "two")
	done, err := s.Restore(ctx, made.Path, store.RestoreOptions{})
	require.NoError(t, err)
	assert.Equal(t, filepath.Dir(real.Path()), filepath.Dir(done.Aside))
	to, err := os.Readlink(link)
	require.NoError(t, err)
	assert.Equal(t, real.Path(), to)
	assert.Equal(t, []string{"one"}, payloads(t, real, id))

	gone := filepath.Join(t.TempDir(), "gone.store")
	require.NoError(t, os.Remove(link))
	require.NoError(t, os.Symlink(gone, link))
	_, err = s.Restore(ctx, made.Path, store.RestoreOptions{})
	assert.Equal(t, store.ClassMissing, store.ClassOf(err))
	assert.NoFileExists(t, gone)
}
