package store_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// small mounts a file system in memory of so many KiB.
func small(t *testing.T, kib string) string {
	t.Helper()
	folder := t.TempDir()
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, "size="+kib+"k"); err != nil {
		t.Skip("a small file system cannot be mounted here (this needs root): " + err.Error())
	}
	t.Cleanup(func() { syscall.Unmount(folder, syscall.MNT_DETACH) })
	return folder
}

// fill takes all room that is left in a folder and returns the file that does.
func fill(t *testing.T, folder string) string {
	t.Helper()
	path := filepath.Join(folder, "ballast")
	f, err := os.Create(path)
	require.NoError(t, err)
	for err == nil {
		_, err = f.Write(make([]byte, 4096))
	}
	require.ErrorIs(t, err, syscall.ENOSPC)
	f.Close()
	return path
}

func TestReadOnlyMountReadsAndRefusesSteps(t *testing.T) {
	folder := small(t, "1024")
	s := at(filepath.Join(folder, "pier.store"))
	require.NoError(t, s.Create(ctx))
	id := newPiece(t, s, "pier", "one")
	require.NoError(t, syscall.Mount("", folder, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
	assert.Equal(t, []string{"one"}, payloads(t, s, id))
	requireSound(t, s)
	err := s.Update(ctx, func(tx *store.Tx) error { _, err := tx.Append(id, event("two")); return err })
	require.Equal(t, store.ClassUnusable, store.ClassOf(err))
	assert.ErrorIs(t, err, syscall.EROFS)
	assert.Equal(t, store.ClassUnusable, store.ClassOf(at(filepath.Join(folder, "new.store")).Create(ctx)))
	err = s.DailyBackup(ctx)
	assert.Equal(t, store.ClassUnusable, store.ClassOf(err))
}

func TestDiskFull(t *testing.T) {
	folder := small(t, "1024")
	s := at(filepath.Join(folder, "pier.store"))
	require.NoError(t, s.Create(ctx))
	id := newPiece(t, s, "pier", "one")
	ballast := fill(t, folder)
	saved := 1
	var err error
	for range 200 {
		err = s.Update(ctx, func(tx *store.Tx) error {
			_, err := tx.Append(id, event(strings.Repeat("a long row ", 300)))
			return err
		})
		if err != nil {
			break
		}
		saved++
	}
	require.Equal(t, store.ClassUnusable, store.ClassOf(err), "%v", err)
	assert.Len(t, payloads(t, s, id), saved)
	requireSound(t, s)
	_, err = s.Backup(ctx, store.ReasonAsked)
	require.Equal(t, store.ClassUnusable, store.ClassOf(err))
	requireOnly(t, folder, "pier.store", "ballast", "pier.store.backups")
	requireOnly(t, s.BackupFolder())
	require.NoError(t, os.Remove(ballast))
	appendEvent(t, s, id, "room again")
	assert.Len(t, payloads(t, s, id), saved+1)
	requireSound(t, s)
}

// requireOnly demands that a folder holds these names and no others.
func requireOnly(t *testing.T, folder string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var have []string
	for _, e := range entries {
		have = append(have, e.Name())
	}
	assert.ElementsMatch(t, names, have)
}

func TestDiskFullOnCreate(t *testing.T) {
	folder := small(t, "64")
	fill(t, folder)
	s := at(filepath.Join(folder, "pier.store"))
	require.Equal(t, store.ClassUnusable, store.ClassOf(s.Create(ctx)))
	requireOnly(t, folder, "ballast")
}

func TestDiskFullOnImportRestoreAndSalvage(t *testing.T) {
	source, _ := long(t, 2000)
	var text bytes.Buffer
	_, err := source.Export(ctx, &text)
	require.NoError(t, err)
	folder := small(t, "128")
	s := at(filepath.Join(folder, "pier.store"))
	require.NoError(t, s.Create(ctx))
	newPiece(t, s, "pier", "one")
	_, err = importFrom(ctx, s, &text, store.ImportOptions{})
	require.Equal(t, store.ClassUnusable, store.ClassOf(err), "%v", err)
	assert.Equal(t, []string{"one"}, payloads(t, s, 1))
	_, err = s.Restore(ctx, source.Path(), store.RestoreOptions{})
	require.Equal(t, store.ClassUnusable, store.ClassOf(err), "%v", err)
	assert.Equal(t, []string{"one"}, payloads(t, s, 1))
	_, err = source.Salvage(ctx, filepath.Join(folder, "salvaged.store"), nil)
	require.Equal(t, store.ClassUnusable, store.ClassOf(err), "%v", err)
	requireOnly(t, folder, "pier.store", "pier.store.backups")
	requireSound(t, s)
}
