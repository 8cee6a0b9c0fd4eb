package store_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"strandwise/store"
)

// exported is a store's export.
func exported(t require.TestingT, s *store.Store) []byte {
	var text bytes.Buffer
	_, err := s.Export(ctx, &text)
	require.NoError(t, err)
	return text.Bytes()
}

// importFrom reads an export and takes it in.
func importFrom(ctx context.Context, s *store.Store, r io.Reader, o store.ImportOptions) (store.Imported, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return store.Imported{}, err
	}
	from, err := store.ReadParcel(text, "pier.export")
	if err != nil {
		return store.Imported{}, err
	}
	return s.Import(ctx, from, o)
}

// imports imports an export.
func imports(s *store.Store, text []byte, o store.ImportOptions) (store.Imported, error) {
	return importFrom(ctx, s, bytes.NewReader(text), o)
}

// furnished is a store with something of everything.
func furnished(t testing.TB) *store.Store {
	t.Helper()
	s := fresh(t)
	require.NoError(t, s.Update(ctx, func(tx *store.Tx) error {
		hash, err := tx.PutChart([]byte("..x..\n"))
		require.NoError(t, err)
		for _, name := range []string{"pier", "buoy"} {
			id, err := tx.NewPiece(append(hash[:], name...))
			require.NoError(t, err)
			for _, text := range []string{"cast on", "row 1", "<row & 2>"} {
				_, err := tx.Append(id, event(text))
				require.NoError(t, err)
			}
		}
		require.NoError(t, tx.PutCache([]byte("fold"), []byte("state")))
		return tx.PutSetting("hold", []byte("left"))
	}))
	return s
}

func TestExportImportExportGivesTheSameBytes(t *testing.T) {
	s := furnished(t)
	text := exported(t, s)
	other := fresh(t)
	done, err := imports(other, text, store.ImportOptions{})
	require.NoError(t, err)
	assert.Equal(t, store.Counts{Charts: 1, Settings: 1, Pieces: 2, Events: 6}, done.File)
	assert.Equal(t, store.FateNew, done.Pieces[0].Fate)
	assert.Equal(t, string(text), string(exported(t, other)))
	requireSound(t, other)
	want, err := contents(s)
	require.NoError(t, err)
	got, err := contents(other)
	require.NoError(t, err)
	assert.Equal(t, want, got)
}

func TestAnythingExportedIsImportedAlike(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	rapid.Check(t, func(rt *rapid.T) {
		defer os.RemoveAll(folder)
		require.NoError(rt, os.MkdirAll(folder, 0o700))
		a, b := at(folder+"/a"), at(folder+"/b")
		require.NoError(rt, a.Create(ctx))
		require.NoError(rt, b.Create(ctx))
		require.NoError(rt, a.Update(ctx, func(tx *store.Tx) error { return anything(rt, tx) }))
		text := exported(rt, a)
		_, err := imports(b, text, store.ImportOptions{})
		require.NoError(rt, err)
		require.Equal(rt, text, exported(rt, b))
	})
}

// anything puts arbitrary contents into a store.
func anything(t *rapid.T, tx *store.Tx) error {
	some := rapid.SliceOf(rapid.Byte())
	for range rapid.IntRange(0, 3).Draw(t, "pieces") {
		id, err := tx.NewPiece(some.Draw(t, "info"))
		if err != nil {
			return err
		}
		for range rapid.IntRange(0, 5).Draw(t, "events") {
			r := store.Record{
				Kind:    rapid.Uint16().Draw(t, "kind"),
				Time:    noon.Add(0).In(noon.Location()),
				Payload: some.Draw(t, "payload"),
			}
			if _, err := tx.Append(id, r); err != nil {
				return err
			}
		}
	}
	if _, err := tx.PutChart(some.Draw(t, "chart")); err != nil {
		return err
	}
	return tx.PutSetting(rapid.StringN(1, 9, -1).Draw(t, "name"), some.Draw(t, "value"))
}

func TestImportingTwiceDoesNothingMore(t *testing.T) {
	s := furnished(t)
	text := exported(t, s)
	before, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	done, err := imports(s, text, store.ImportOptions{})
	require.NoError(t, err)
	assert.False(t, done.Changes())
	assert.Empty(t, done.Backup)
	for _, p := range done.Pieces {
		assert.Equal(t, store.FateSame, p.Fate)
		assert.Equal(t, uint64(3), p.Equal)
	}
	after, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

func TestImportContinuesALogAndMakesABackupFirst(t *testing.T) {
	s, other := furnished(t), fresh(t)
	_, err := imports(other, exported(t, s), store.ImportOptions{})
	require.NoError(t, err)
	appendEvent(t, s, 1, "row 3")
	text := exported(t, s)
	plan, err := imports(other, text, store.ImportOptions{DryRun: true})
	require.NoError(t, err)
	assert.Len(t, payloads(t, other, 1), 3)
	done, err := imports(other, text, store.ImportOptions{})
	require.NoError(t, err)
	assert.Equal(t, plan.Pieces, done.Pieces)
	assert.Equal(t, store.FateLonger, done.Pieces[0].Fate)
	assert.Equal(t, uint64(1), done.Pieces[0].Added)
	assert.Len(t, payloads(t, other, 1), 4)
	require.NoError(t, done.BackupFault)
	assert.Len(t, payloads(t, at(done.Backup), 1), 3)
	appendEvent(t, other, 1, "row 4")
	done, err = imports(other, text, store.ImportOptions{})
	require.NoError(t, err)
	assert.Equal(t, store.FateShorter, done.Pieces[0].Fate)
}

func TestConflictIsRefusedAndNamedOrKeptApart(t *testing.T) {
	s, other := furnished(t), fresh(t)
	_, err := imports(other, exported(t, s), store.ImportOptions{})
	require.NoError(t, err)
	appendEvent(t, s, 1, "row 3 here")
	appendEvent(t, s, 2, "row 3")
	appendEvent(t, other, 1, "row 3 there")
	text := exported(t, s)
	before, err := os.ReadFile(other.Path())
	require.NoError(t, err)
	done, err := imports(other, text, store.ImportOptions{})
	var e *store.Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, store.ClassConflict, e.Class)
	assert.Equal(t, store.PieceID(1), e.Piece)
	assert.Equal(t, uint64(4), e.Seq)
	assert.Equal(t, store.FateConflict, done.Pieces[0].Fate)
	after, err := os.ReadFile(other.Path())
	require.NoError(t, err)
	assert.Equal(t, before, after)

	for round := range 2 {
		done, err = imports(other, text, store.ImportOptions{KeepApart: true})
		require.NoError(t, err)
		assert.Equal(t, []store.Fate{store.FateApart, store.FateSame}[round], done.Pieces[0].Fate)
		assert.Equal(t, []string{"cast on", "row 1", "<row & 2>", "row 3 there"}, payloads(t, other, 1))
		assert.Equal(t, []string{"cast on", "row 1", "<row & 2>", "row 3 here"}, payloads(t, other, 3))
		requireSound(t, other)
	}
}

func TestSettingsOfTheStoreStay(t *testing.T) {
	s, other := furnished(t), fresh(t)
	require.NoError(t, other.Update(ctx, func(tx *store.Tx) error { return tx.PutSetting("hold", []byte("right")) }))
	done, err := imports(other, exported(t, s), store.ImportOptions{})
	require.NoError(t, err)
	assert.Equal(t, []string{"hold"}, done.Kept)
	require.NoError(t, other.View(ctx, func(tx *store.Tx) error {
		value, _ := tx.Setting("hold")
		assert.Equal(t, "right", string(value))
		return nil
	}))
}

// requireBadLine demands that a text is refused with a line that is there, and
// nothing of it is taken in.
func requireBadLine(t *testing.T, s *store.Store, text []byte, most int) {
	t.Helper()
	_, err := imports(s, text, store.ImportOptions{})
	var e *store.Error
	require.ErrorAs(t, err, &e)
	require.Equal(t, store.ClassBadInput, e.Class)
	require.Positive(t, e.Line)
	require.LessOrEqual(t, e.Line, most)
	require.Contains(t, e.Error(), "pier.export:")
}

func TestExportCutAtEveryLineIsRefused(t *testing.T) {
	text := exported(t, furnished(t))
	s := fresh(t)
	lines := bytes.SplitAfter(text, []byte("\n"))
	for n := range len(lines) - 1 {
		requireBadLine(t, s, bytes.Join(lines[:n], nil), n+1)
		requireBadLine(t, s, append(bytes.Join(lines[:n], nil), lines[n][:len(lines[n])/2]...), n+1)
	}
	requireBadLine(t, s, append(bytes.Clone(text), "more\n"...), len(lines))
	requireBadLine(t, s, bytes.Join(append(lines[:2:2], lines[3:]...), nil), len(lines))
	requireSound(t, s)
}

func TestExportWithOneCharacterChangedIsRefusedAtItsLine(t *testing.T) {
	text := exported(t, furnished(t))
	s := fresh(t)
	for i := range text {
		changed := bytes.Clone(text)
		changed[i] ^= 0x20
		if changed[i] == text[i] {
			continue
		}
		_, err := imports(s, changed, store.ImportOptions{})
		var e *store.Error
		require.ErrorAs(t, err, &e)
		require.Equal(t, store.ClassBadInput, e.Class)
		require.Equal(t, 1+bytes.Count(text[:i], []byte("\n")), e.Line, "character %d", i)
	}
	require.NoError(t, s.View(ctx, func(tx *store.Tx) error {
		assert.Empty(t, tx.Pieces())
		return nil
	}))
}

func TestOtherFilesAreNoExport(t *testing.T) {
	for _, text := range []string{"", "\n", "the tide\n", "{}\n", `{"line":"header"}` + "\n", strings.Repeat("x", 100)} {
		requireBadLine(t, fresh(t), []byte(text), 1)
	}
}

func TestExportOfADamagedStoreWritesNothing(t *testing.T) {
	s := furnished(t)
	data, err := os.ReadFile(s.Path())
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(s.Path(), bytes.ReplaceAll(data, []byte("row & 2"), []byte("row & 3")), 0o600))
	var text bytes.Buffer
	_, err = s.Export(ctx, &text)
	require.Equal(t, store.ClassDamaged, store.ClassOf(err))
	assert.Zero(t, text.Len())
}

func TestImportCanBeCanceled(t *testing.T) {
	s := furnished(t)
	done, cancel := context.WithCancel(ctx)
	cancel()
	_, err := importFrom(done, fresh(t), bytes.NewReader(exported(t, s)), store.ImportOptions{})
	require.ErrorIs(t, err, context.Canceled)
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(`{"line":"header","file":"strandwise export","format":1` + "\n" + `{"line":"setting","name":"hold","data":"bGVmdA=="`))
	f.Add([]byte(`{"line":"piece","piece":"0102030405060708","data":""`))
	f.Add([]byte(`{"line":"event","piece":"0102030405060708","seq":1,"kind":1,"time":"2031-03-04T12:00:00Z","zone":0,"chain":"00000000","data":""`))
	f.Fuzz(func(t *testing.T, text []byte) {
		err := store.Parse(bytes.NewReader(store.SealLines(text)))
		if err != nil && store.ClassOf(err) != store.ClassBadInput {
			t.Errorf("an error of another class: %v", err)
		}
	})
}

// Where there is no store, importing makes one as it would fill an empty one, and a dry run says
// the same and makes nothing.
func TestImportWhereThereIsNoStoreMakesOne(t *testing.T) {
	text := exported(t, furnished(t))
	empty, none := fresh(t), at(filepath.Join(t.TempDir(), "new", "none.store"))
	want, err := imports(empty, text, store.ImportOptions{DryRun: true})
	require.NoError(t, err)
	dry, err := imports(none, text, store.ImportOptions{DryRun: true})
	require.NoError(t, err)
	assert.Equal(t, want, dry)
	assert.NoFileExists(t, none.Path())
	refused := errors.New("not so")
	_, err = imports(none, text, store.ImportOptions{Settle: func(*store.Tx, store.Imported) error { return refused }})
	require.ErrorIs(t, err, refused)
	assert.NoFileExists(t, none.Path())
	done, err := imports(none, text, store.ImportOptions{})
	require.NoError(t, err)
	assert.Empty(t, done.Backup)
	for i := range done.Pieces {
		assert.Equal(t, store.PieceID(i+1), done.Pieces[i].ID)
	}
	requireSound(t, none)
	assert.Equal(t, string(text), string(exported(t, none)))

	link := filepath.Join(t.TempDir(), "link.store")
	require.NoError(t, os.Symlink(filepath.Join(t.TempDir(), "gone.store"), link))
	_, err = imports(at(link), text, store.ImportOptions{})
	assert.Equal(t, store.ClassMissing, store.ClassOf(err))
}
