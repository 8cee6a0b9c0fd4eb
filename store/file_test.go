package store_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"hash/fnv"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"strandwise/store"
)

// requireRefused demands that reading, changing, checking and exporting are all
// refused with one class, leave the file alone, and say something.
func requireRefused(t *testing.T, s *store.Store, class store.Class, says string) {
	t.Helper()
	before := fileBytes(s.Path())
	for name, err := range map[string]error{
		"view":   s.View(ctx, func(*store.Tx) error { return nil }),
		"update": s.Update(ctx, func(tx *store.Tx) error { _, err := tx.NewPiece(nil); return err }),
		"backup": backupError(s),
	} {
		require.Equal(t, class, store.ClassOf(err), "%s: %v", name, err)
		assert.Contains(t, err.Error(), says)
		assert.Contains(t, err.Error(), s.Path())
	}
	assert.True(t, bytes.Equal(before, fileBytes(s.Path())), "the file was changed")
}

// fileBytes reads a file; what is not one, such as a pipe, has no bytes.
func fileBytes(path string) []byte {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return nil
	}
	data, _ := os.ReadFile(path)
	return data
}

func backupError(s *store.Store) error {
	_, err := s.Backup(ctx, store.ReasonAsked)
	return err
}

func TestMissingStoreIsNotMade(t *testing.T) {
	folder := t.TempDir()
	s := store.At(filepath.Join(folder, "none.store"), store.Options{Backups: filepath.Join(t.TempDir(), "b")})
	requireRefused(t, s, store.ClassMissing, "no store here yet")
	exists, err := s.Exists()
	require.NoError(t, err)
	assert.False(t, exists)
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, entries)
}

func TestDanglingLinkIsNotFollowedIntoANewStore(t *testing.T) {
	folder := t.TempDir()
	link := filepath.Join(folder, "link.store")
	require.NoError(t, os.Symlink(filepath.Join(folder, "gone"), link))
	s := store.At(link, store.Options{Backups: filepath.Join(t.TempDir(), "b")})
	requireRefused(t, s, store.ClassMissing, "the link leads to no store")
	require.Equal(t, store.ClassExists, store.ClassOf(s.Create(ctx)))
	_, err := os.Stat(filepath.Join(folder, "gone"))
	assert.True(t, os.IsNotExist(err))
}

func TestLinkToAStoreIsFollowed(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one")
	link := filepath.Join(t.TempDir(), "link.store")
	require.NoError(t, os.Symlink(s.Path(), link))
	assert.Equal(t, []string{"one"}, payloads(t, at(link), id))
}

func TestEmptyFileNamesTheNewestBackup(t *testing.T) {
	s := fresh(t)
	newPiece(t, s, "pier", "one")
	made, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	require.NoError(t, os.Truncate(s.Path(), 0))
	requireRefused(t, s, store.ClassDamaged, "empty")
	err = s.View(ctx, func(*store.Tx) error { return nil })
	var e *store.Error
	require.ErrorAs(t, err, &e)
	assert.Contains(t, e.Hints(), "newest backup: "+made.Path)
}

func TestCreateTwiceIsRefused(t *testing.T) {
	s := fresh(t)
	require.Equal(t, store.ClassExists, store.ClassOf(s.Create(ctx)))
}

func TestFilesAreForTheirOwnerOnly(t *testing.T) {
	s := store.At(filepath.Join(t.TempDir(), "a", "b", "pier.store"), store.Options{})
	require.NoError(t, s.Create(ctx))
	made, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	for path, mode := range map[string]os.FileMode{
		s.Path(): 0o600, made.Path: 0o600,
		filepath.Dir(s.Path()): 0o700, filepath.Dir(filepath.Dir(s.Path())): 0o700, s.BackupFolder(): 0o700,
	} {
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Equal(t, mode, info.Mode().Perm(), path)
	}
}

func TestCutAtEveryPageAndBesideIt(t *testing.T) {
	past := history(t)
	data := past[len(past)-1]
	used := int(newestHeader(t, data).pages) * page
	for edge := 0; edge <= used; edge += page {
		for _, size := range []int{edge - 1, edge, edge + 1} {
			if size <= 0 || size >= used {
				continue
			}
			s := asStore(t, data[:size])
			_, err := contents(s)
			require.True(t, refusedAsDamage(err), "%d: %v", size, err)
			if size > 2*page {
				assert.Contains(t, err.Error(), "cut short")
			}
			require.Error(t, s.Update(ctx, func(tx *store.Tx) error { _, err := tx.NewPiece(nil); return err }))
			after, err := os.ReadFile(s.Path())
			require.NoError(t, err)
			require.True(t, bytes.Equal(data[:size], after))
		}
	}
}

// rawHeader is a header page as the tests read it, apart from the code under test.
type rawHeader struct{ slot, txid, pages, root, free uint64 }

// newestHeader finds the header with the higher number.
func newestHeader(t testing.TB, data []byte) rawHeader {
	t.Helper()
	var newest rawHeader
	for slot := range uint64(2) {
		m := data[slot*page+16:]
		h := rawHeader{
			slot: slot, txid: binary.NativeEndian.Uint64(m[48:]), pages: binary.NativeEndian.Uint64(m[40:]),
			root: binary.NativeEndian.Uint64(m[16:]), free: binary.NativeEndian.Uint64(m[32:]),
		}
		if slot == 0 || h.txid > newest.txid {
			newest = h
		}
	}
	return newest
}

func TestOneBitInTheNewestHeaderWarnsAndNamesTheLastEvent(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one", "two")
	appendEvent(t, s, id, "three")
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	data[newestHeader(t, data).slot*page+16+40] ^= 1
	require.NoError(t, os.WriteFile(s.Path(), data, 0o600))
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		warnings := tx.Warnings()
		require.Len(t, warnings, 1)
		assert.Equal(t, id, warnings[0].Piece)
		assert.Equal(t, uint64(2), warnings[0].Seq)
		return nil
	}))
	after, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	assert.Equal(t, data, after)
	appendEvent(t, s, id, "three again")
	assert.Equal(t, []string{"one", "two", "three again"}, payloads(t, s, id))
	require.Empty(t, requireSound(t, s).Warnings, "the next step mends the header")
}

func TestBothHeadersZeroed(t *testing.T) {
	s := fresh(t)
	newPiece(t, s, "pier", "one", "two", "three")
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	clear(data[:2*page])
	require.NoError(t, os.WriteFile(s.Path(), data, 0o600))
	requireRefused(t, s, store.ClassDamaged, "neither of the two headers")
}

func TestPagesThatLeadRoundInACircle(t *testing.T) {
	s, _ := long(t, 2000)
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	loops := 0
	for at := 2 * page; at+page <= len(data); at += page {
		if binary.NativeEndian.Uint16(data[at+8:]) != 1 {
			continue // not a branch
		}
		loops++
		looped := bytes.Clone(data)
		binary.NativeEndian.PutUint64(looped[at+16+8:], uint64(at/page))
		damaged := asStore(t, looped)
		began := time.Now()
		_, err := contents(damaged)
		if err == nil {
			continue // a page no longer in use
		}
		require.Equal(t, store.ClassDamaged, store.ClassOf(err))
		assert.Less(t, time.Since(began), time.Second)
		requireRefusedStep(t, damaged)
	}
	require.Positive(t, loops)
}

// requireRefusedStep demands that a step says damage or does its work.
func requireRefusedStep(t *testing.T, s *store.Store) {
	t.Helper()
	err := s.Update(ctx, func(tx *store.Tx) error { _, err := tx.Append(1, event("more")); return err })
	require.True(t, err == nil || refusedAsDamage(err), "%v", err)
}

func TestFreeListThatNamesALivePage(t *testing.T) {
	s, id := long(t, 500)
	_, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	h := newestHeader(t, data)
	list := data[h.free*page:]
	count := binary.NativeEndian.Uint16(list[10:])
	live := h.pages - 1
	binary.NativeEndian.PutUint64(list[16+8*int(count):], live)
	binary.NativeEndian.PutUint16(list[10:], count+1)
	require.NoError(t, os.WriteFile(s.Path(), data, 0o600))

	_, err = contents(s)
	require.NoError(t, err, "a read does not use the free list")
	err = s.Update(ctx, func(tx *store.Tx) error { _, err := tx.NewPiece(nil); return err })
	require.Equal(t, store.ClassDamaged, store.ClassOf(err), "a change would write over the page")
	report, err := s.Check(ctx)
	require.NoError(t, err)
	require.NotEmpty(t, report.Problems)
	_, err = s.Backup(ctx, store.ReasonAsked)
	require.Equal(t, store.ClassDamaged, store.ClassOf(err))
	all, err := s.Backups()
	require.NoError(t, err)
	assert.Len(t, all, 1, "nothing is rotated out and nothing added")
	assert.NotEmpty(t, payloads(t, s, id))
}

func TestFilesOfOtherPrograms(t *testing.T) {
	var picture bytes.Buffer
	require.NoError(t, png.Encode(&picture, image.NewGray(image.Rect(0, 0, 90, 90))))
	for name, data := range map[string][]byte{
		"text": []byte("the tide turns at noon\n"), "JSON": []byte(`{"pier": 1}`), "PNG": picture.Bytes(),
		"long text": bytes.Repeat([]byte("low water, high water\n"), 2000),
	} {
		t.Run(name, func(t *testing.T) {
			requireRefused(t, asStore(t, data), store.ClassForeign, "not a store of this program")
		})
	}
}

func TestDatabaseOfAnotherProgram(t *testing.T) {
	path := filepath.Join(t.TempDir(), "other.store")
	db, err := bbolt.Open(path, 0o600, nil)
	require.NoError(t, err)
	require.NoError(t, db.Update(func(tx *bbolt.Tx) error { _, err := tx.CreateBucket([]byte("boats")); return err }))
	require.NoError(t, db.Close())
	requireRefused(t, store.At(path, store.Options{}), store.ClassForeign, "not a store of this program")
}

func TestCanceledWhileWaiting(t *testing.T) {
	s := fresh(t)
	holder(t, s, "1m")
	c, cancel := context.WithTimeout(ctx, 50*time.Millisecond)
	defer cancel()
	require.ErrorIs(t, s.Update(c, func(*store.Tx) error { return nil }), context.DeadlineExceeded)
}

// sealHeader puts the right checksum on a header page.
func sealHeader(header []byte) {
	sum := fnv.New64a()
	sum.Write(header[16 : 16+56])
	binary.NativeEndian.PutUint64(header[16+56:], sum.Sum64())
}

func TestHeaderThatNamesPagesOutsideTheFile(t *testing.T) {
	for name, offset := range map[string]int{"root": 16, "free list": 32} {
		t.Run(name, func(t *testing.T) {
			s := fresh(t)
			newPiece(t, s, "pier", "one")
			data, err := os.ReadFile(s.Path())
			require.NoError(t, err)
			header := data[newestHeader(t, data).slot*page:][:page]
			binary.NativeEndian.PutUint64(header[16+offset:], 1<<40)
			sealHeader(header)
			require.NoError(t, os.WriteFile(s.Path(), data, 0o600))
			requireRefused(t, s, store.ClassDamaged, "page that is not there")
		})
	}
}
