package store_test

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// salvaged salvages into a new file beside the store.
func salvaged(t *testing.T, s *store.Store) (store.Salvaged, *store.Store) {
	t.Helper()
	before, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	to := filepath.Join(t.TempDir(), "salvaged.store")
	done, err := s.Salvage(ctx, to, nil)
	require.NoError(t, err)
	after, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	require.Equal(t, before, after, "the damaged file was changed")
	requireSound(t, at(to))
	return done, at(to)
}

// rewrite changes the bytes of a store file.
func rewrite(t *testing.T, s *store.Store, change func(data []byte) []byte) {
	t.Helper()
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(s.Path(), change(data), 0o600))
}

func TestSalvageOfASoundStoreIsTheSame(t *testing.T) {
	s := furnished(t)
	done, copied := salvaged(t, s)
	assert.True(t, done.Sure)
	assert.Equal(t, string(exported(t, s)), string(exported(t, copied)))
}

func TestSalvageListsTheGapAndKeepsTheNumbers(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one", "the marked event", "three", "four")
	rewrite(t, s, func(d []byte) []byte { return bytes.ReplaceAll(d, []byte("marked"), []byte("market")) })
	done, copied := salvaged(t, s)
	require.Len(t, done.Pieces, 1)
	p := done.Pieces[0]
	assert.Equal(t, "pier", string(p.Info))
	assert.Equal(t, uint64(3), p.Events)
	assert.Equal(t, []store.Gap{{From: 2, To: 2}}, p.Gaps)
	assert.Equal(t, []string{"one", "", "three", "four"}, payloads(t, copied, id))
	require.NoError(t, copied.View(ctx, func(tx *store.Tx) error {
		all, err := tx.Records(id)
		for _, r := range all {
			assert.Equal(t, r.Seq == 2, r.Kind == store.KindLost)
		}
		return err
	}))
	appendEvent(t, copied, id, "five")
}

func TestSalvageJoinsTheBackups(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one", "the marked event", "three")
	_, err := s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	appendEvent(t, s, id, "four")
	rewrite(t, s, func(d []byte) []byte { return bytes.ReplaceAll(d, []byte("marked"), []byte("market")) })
	done, copied := salvaged(t, s)
	assert.Len(t, done.Sources, 2)
	assert.Equal(t, uint64(1), done.Pieces[0].FromBackup)
	assert.Empty(t, done.Pieces[0].Gaps)
	assert.Equal(t, []string{"one", "the marked event", "three", "four"}, payloads(t, copied, id))
}

func TestSalvageWithoutHeaders(t *testing.T) {
	s, id := long(t, 500)
	newPiece(t, s, "buoy", "a", "b")
	want := payloads(t, s, id)
	rewrite(t, s, func(d []byte) []byte { clear(d[:2*page]); return d })
	done, copied := salvaged(t, s)
	assert.False(t, done.Sure)
	require.Len(t, done.Pieces, 2)
	assert.Equal(t, "long", string(done.Pieces[0].Info))
	assert.Equal(t, want, payloads(t, copied, id))
	assert.Equal(t, []string{"a", "b"}, payloads(t, copied, 2))
}

func TestSalvageDoesNotBringBackARemovedPiece(t *testing.T) {
	s := fresh(t)
	gone := newPiece(t, s, "gone", "a")
	newPiece(t, s, "pier", "b")
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error { return tx.RemovePiece(gone) }))
	done, _ := salvaged(t, s)
	require.Len(t, done.Pieces, 1)
	assert.Equal(t, "pier", string(done.Pieces[0].Info))
}

func TestSalvageNeverWritesOverAnything(t *testing.T) {
	s := furnished(t)
	other := fresh(t)
	_, err := s.Salvage(ctx, other.Path(), nil)
	require.Equal(t, store.ClassExists, store.ClassOf(err))
	requireSound(t, other)
}

func TestSalvageOfWhatIsNoStore(t *testing.T) {
	s := asStore(t, bytes.Repeat([]byte("low water\n"), 3000))
	to := filepath.Join(t.TempDir(), "salvaged.store")
	_, err := s.Salvage(ctx, to, nil)
	require.Equal(t, store.ClassDamaged, store.ClassOf(err))
	_, err = os.Lstat(to)
	assert.True(t, os.IsNotExist(err))
}

func TestSalvageAfterRandomDamageGivesOnlyTrueEvents(t *testing.T) {
	t.Parallel()
	past := history(t)
	good := past[len(past)-1]
	truth := map[string]bool{}
	sound := asStore(t, good)
	for id := store.PieceID(1); id <= 3; id++ {
		var uid store.UID
		require.NoError(t, sound.View(ctx, func(tx *store.Tx) (err error) { uid, err = tx.UID(id); return err }))
		for i, text := range payloads(t, sound, id) {
			truth[fmt.Sprint(uid, i+1, text)] = true
		}
	}
	r := rand.New(rand.NewPCG(5, 6))
	for round := range rounds(48, 600) {
		h := harms[round%len(harms)]
		s := asStore(t, h.do(r, bytes.Clone(good), past))
		to := filepath.Join(t.TempDir(), "salvaged.store")
		done, err := s.Salvage(ctx, to, nil)
		if err != nil {
			require.True(t, refusedAsDamage(err), "%v", err)
			continue
		}
		requireSound(t, at(to))
		requireTrue(t, at(to), truth, done)
	}
}

// requireTrue demands that every event of a salvaged store was in the original.
func requireTrue(t *testing.T, s *store.Store, truth map[string]bool, done store.Salvaged) {
	t.Helper()
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		for _, p := range done.Pieces {
			all, err := tx.Records(p.ID)
			require.NoError(t, err)
			for _, r := range all {
				if r.Kind == store.KindLost {
					continue
				}
				text := fmt.Sprint(p.UID, r.Seq, string(r.Payload))
				require.True(t, truth[text], "%s was never recorded", text)
			}
		}
		return nil
	}))
}

func FuzzOpen(f *testing.F) {
	s := furnished(f)
	good, err := os.ReadFile(s.Path())
	require.NoError(f, err)
	f.Add([]byte{0, 0x10, 0x28, 1})
	f.Add([]byte{0, 0x00, 0x28, 1, 0, 0x30, 0x10, 0x80})
	path := filepath.Join(f.TempDir(), "pier.store")
	// Every four bytes are one change: three of a place, one that is put there.
	f.Fuzz(func(t *testing.T, changes []byte) {
		data := bytes.Clone(good)
		for ; len(changes) >= 4; changes = changes[4:] {
			place := int(changes[0])<<16 | int(changes[1])<<8 | int(changes[2])
			data[place%len(data)] = changes[3]
		}
		store.Harvest(data)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := contents(at(path)); err != nil && !refusedAsDamage(err) {
			t.Errorf("an error of another class: %v", err)
		}
	})
}

func TestSalvageKeepsTheNumbersOfPieces(t *testing.T) {
	s := fresh(t)
	first := newPiece(t, s, "gone", "one")
	second := newPiece(t, s, "pier", "one", "two")
	third := newPiece(t, s, "mole", "one")
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error { return tx.RemovePiece(first) }))
	_, copied := salvaged(t, s)
	require.NoError(t, copied.View(ctx, func(tx *store.Tx) error {
		assert.Equal(t, []store.PieceID{second, third}, tx.Pieces())
		return nil
	}))
	assert.Greater(t, newPiece(t, copied, "quay"), third, "the next is a number never used")
}

// A backup that tells of a longer log is not believed where the store itself still says where
// its logs end: a restore may have cut them.
func TestSalvageDoesNotUndoARestore(t *testing.T) {
	s := fresh(t)
	id := newPiece(t, s, "pier", "one")
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	older := asStore(t, data)
	appendEvent(t, s, id, "two")
	_, err = s.Backup(ctx, store.ReasonAsked)
	require.NoError(t, err)
	_, err = s.Restore(ctx, older.Path(), store.RestoreOptions{})
	require.NoError(t, err)
	done, copied := salvaged(t, s)
	assert.True(t, done.Sure)
	assert.Equal(t, []string{"one"}, payloads(t, copied, id))
}

func TestSalvageIsTheMendedStoreOrNone(t *testing.T) {
	s := furnished(t)
	to := filepath.Join(t.TempDir(), "salvaged.store")
	refusal := errors.New("not like that")
	_, err := s.Salvage(ctx, to, func(*store.Parcel, []store.SalvagedPiece) error { return refusal })
	require.ErrorIs(t, err, refusal)
	entries, err := os.ReadDir(filepath.Dir(to))
	require.NoError(t, err)
	assert.Empty(t, entries)
	done, err := s.Salvage(ctx, to, func(whole *store.Parcel, _ []store.SalvagedPiece) error {
		whole.Pieces = whole.Pieces[1:]
		mended := whole.Pieces[0]
		mended.Records = nil
		mended.Add(event("four"))
		mended.Add(event("five"))
		return nil
	})
	require.NoError(t, err)
	requireSound(t, at(to))
	assert.Equal(t, []string{"four", "five"}, payloads(t, at(to), done.Pieces[1].ID))
	appendEvent(t, at(to), done.Pieces[1].ID, "six")
	requireSound(t, at(to))
	require.NoError(t, at(to).View(ctx, func(tx *store.Tx) error {
		_, err := tx.PieceOf(done.Pieces[0].UID)
		assert.ErrorIs(t, err, store.ErrNoPiece)
		return nil
	}))
}
