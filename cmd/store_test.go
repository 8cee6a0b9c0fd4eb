package cmd

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/store"
)

// onStore runs the program on a store.
func onStore(t *testing.T, path string, args ...string) ran {
	t.Helper()
	return runMain(t, frame.Env{}, append(args, "--store", path)...)
}

// mustJSON runs the program with --json and reads the answer.
func mustJSON[T any](t *testing.T, path string, code int, args ...string) T {
	t.Helper()
	got := onStore(t, path, append(args, "--json")...)
	require.Equal(t, code, got.code, got.out+got.err)
	assert.Equal(t, 1, strings.Count(got.out, "\n"))
	var body T
	require.NoError(t, json.Unmarshal([]byte(got.out), &body))
	return body
}

func sumOf(t testing.TB, path string) [32]byte {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return sha256.Sum256(data)
}

func TestWhereTellsPathOriginAndBackups(t *testing.T) {
	path := filepath.Join(t.TempDir(), "none.store")
	assert.Contains(t, onStore(t, path, "store", "where").out, "Nothing is there yet")
	path = seededStore(t, planted("hat", 3))
	require.Zero(t, onStore(t, path, "store", "backup").code)
	body := mustJSON[answer.Store](t, path, 0, "store", "where")
	assert.Equal(t, "flag --store", body.Origin)
	assert.True(t, body.Exists)
	assert.Positive(t, body.Bytes)
	require.Len(t, body.Backups, 1)
	assert.Equal(t, store.ReasonAsked, body.Backups[0].Reason)
	out := onStore(t, path, "store", "where").out
	assert.Contains(t, out, body.Backups[0].Path+"\n")
	assert.Contains(t, out, "asked for")
}

func TestCheckOfASoundStore(t *testing.T) {
	path := seededStore(t, planted("hat", 3), planted("left mitten", 0))
	before := sumOf(t, path)
	got := onStore(t, path, "store", "check")
	assert.Zero(t, got.code, got.err)
	assert.Contains(t, strings.ReplaceAll(got.out, "\n", " "), "is sound: 2 pieces, 5 events, 1 chart and no settings")
	body := mustJSON[answer.StoreCheck](t, path, 0, "store", "check")
	assert.True(t, body.Sound)
	assert.Equal(t, 5, body.Events)
	assert.Empty(t, body.Problems)
	assert.Equal(t, before, sumOf(t, path))
}

// inStore changes a store behind the program's back, checksums and all.
func inStore(t testing.TB, path string, change func(*store.Tx) error) {
	t.Helper()
	require.NoError(t, store.At(path, store.Options{}).Update(context.Background(), change))
}

func TestCheckFoldsEveryPiece(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*store.Tx) error
		want   string
	}{
		"a row that does not follow": {
			func(tx *store.Tx) error {
				kind, payload := session.Encode(&session.RowKnit{Row: 9})
				_, err := tx.Append(1, store.Record{Kind: kind, Time: seedTime, Payload: payload})
				return err
			}, "hat, event 5: (row knitted) round 9 is not next; the round to work is 4",
		},
		"an unknown kind": {
			func(tx *store.Tx) error {
				_, err := tx.Append(1, store.Record{Kind: 4242, Time: seedTime})
				return err
			}, "hat, event 5: (unknown) events of kind 4242 were written by a newer version",
		},
		"a list that says something else": {
			func(tx *store.Tx) error { return tx.SetInfo(1, []byte(`{"name":"hat","row":50}`)) },
			"hat: what the list of pieces says of it is not what its log says",
		},
		"no name": {
			func(tx *store.Tx) error { return tx.SetInfo(1, nil) }, "piece 1: what the list of pieces says",
		},
	} {
		t.Run(name, func(t *testing.T) {
			path := seededStore(t, planted("hat", 3), planted("cowl", 1))
			inStore(t, path, c.change)
			before := sumOf(t, path)
			got := onStore(t, path, "store", "check")
			assert.Equal(t, 6, got.code)
			assert.Empty(t, got.out)
			assert.Contains(t, got.err, c.want)
			assert.Contains(t, got.err, "(1 problem)")
			assert.Contains(t, got.err, "try: strandwise store restore")
			body := mustJSON[answer.StoreCheck](t, path, 6, "store", "check")
			assert.False(t, body.Sound)
			assert.Len(t, body.Problems, 1)
			assert.Equal(t, before, sumOf(t, path))
		})
	}
}

func TestCheckShowsTenProblemsAndACount(t *testing.T) {
	var pieces []seed
	for _, name := range strings.Fields("a b c d e f g h i j k l") {
		pieces = append(pieces, planted(name, 1))
	}
	path := seededStore(t, pieces...)
	inStore(t, path, func(tx *store.Tx) error {
		for id := range store.PieceID(12) {
			if err := tx.SetInfo(id+1, nil); err != nil {
				return err
			}
		}
		return nil
	})
	got := onStore(t, path, "store", "check")
	assert.Contains(t, got.err, "(12 problems)")
	assert.Contains(t, got.err, "\n  and 2 more\n")
}

func TestBackupIsVerifiedAndCopied(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	copied := filepath.Join(t.TempDir(), "stick.store")
	body := mustJSON[answer.BackedUp](t, path, 0, "store", "backup", "-o", copied)
	assert.Equal(t, 1, body.Kept)
	assert.Equal(t, sumOf(t, body.Path), sumOf(t, copied))
	assert.Equal(t, 4, mustJSON[answer.StoreCheck](t, copied, 0, "store", "check").Events)
	got := onStore(t, path, "store", "backup", "-o", copied)
	assert.Equal(t, 1, got.code)
	assert.Contains(t, got.err, "--force")
}

func TestRestoreSaysWhatDiffersAsksAndKeepsTheFormer(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	require.Zero(t, onStore(t, path, "store", "backup").code)
	inStore(t, path, func(tx *store.Tx) error { return plantEvents(tx, 1, []session.Event{&session.RowKnit{Row: 4}}) })
	plantIn(t, path, planted("cowl", 2))
	before := sumOf(t, path)

	got := onStore(t, path, "store", "restore", "--dry-run", "--width", "0")
	assert.Zero(t, got.code)
	text := strings.ReplaceAll(got.out, "\n", " ")
	assert.Contains(t, text, "hat: 5 events here, 4 in the backup: 1 event would be lost.")
	assert.Contains(t, text, "cowl: would be lost, with 3 events; the backup does not have it.")
	assert.Contains(t, text, "Nothing was changed.")

	got = onStore(t, path, "store", "restore")
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.err, "the same command with --yes")
	assert.Contains(t, got.err, "nothing was saved")
	assert.Equal(t, before, sumOf(t, path))

	body := mustJSON[answer.Restored](t, path, 0, "store", "restore", "--yes")
	assert.Equal(t, before, sumOf(t, body.Aside))
	assert.Equal(t, []answer.RestoreChange{{Piece: "hat", Change: store.Change{Before: 5, After: 4}}, {Piece: "cowl", Change: store.Change{Before: 3}}}, body.Changes)
	assert.Contains(t, onStore(t, path, "store", "check").out, "4 events")
}

func TestRestoreShowsWhatGoesBeforeItAsks(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	require.Zero(t, onStore(t, path, "store", "backup").code)
	plantIn(t, path, planted("cowl", 2))
	got := runMain(t, frame.Env{InTTY: true, ErrTTY: true, In: strings.NewReader("no\n")}, "store", "restore", "--store", path)
	assert.Equal(t, 1, got.code)
	goes, asks := strings.Index(got.err, "cowl: would be lost"), strings.Index(got.err, "Type yes")
	assert.True(t, 0 <= goes && goes < asks, got.err)
}

func TestRestoreWithoutABackup(t *testing.T) {
	got := onStore(t, seededStore(t), "store", "restore", "--yes")
	assert.Equal(t, 5, got.code)
	assert.Contains(t, got.err, "there is no backup in")
	got = onStore(t, seededStore(t), "store", "restore", "nothing.store", "--yes")
	assert.Equal(t, 3, got.code)
	assert.Contains(t, got.err, "cannot read nothing.store: no such file")
}

func TestExportAndImportMoveEverything(t *testing.T) {
	here := seededStore(t, planted("hat", 3), planted("cowl", 2))
	inStore(t, here, func(tx *store.Tx) error { return tx.PutSetting("units", []byte("inches")) })
	file := filepath.Join(t.TempDir(), "all.jsonl")
	body := mustJSON[answer.Exported](t, here, 0, "store", "export", "-o", file)
	assert.Equal(t, store.Counts{Charts: 1, Settings: 1, Pieces: 2, Events: 7}, body.Counts)

	there := filepath.Join(t.TempDir(), "new", "pieces.store")
	dry := mustJSON[answer.Imported](t, there, 0, "store", "import", file, "--dry-run")
	assert.Equal(t, store.FateNew, dry.Pieces[0].Fate)
	assert.NoFileExists(t, there)
	got := onStore(t, there, "store", "import", file)
	assert.Equal(t, 2, got.code, "without a terminal it wants --yes")
	assert.NoFileExists(t, there)
	done := mustJSON[answer.Imported](t, there, 0, "store", "import", file, "--yes")
	assert.False(t, done.DryRun)
	assert.Empty(t, done.Backup)

	again := onStore(t, there, "store", "import", file)
	assert.Zero(t, again.code)
	assert.Contains(t, again.out, "already there")
	back := onStore(t, there, "store", "export")
	exported, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(exported), back.out)
	assert.Zero(t, onStore(t, there, "store", "check").code)
}

func TestExportToStdoutHasNoRoomForJSON(t *testing.T) {
	got := onStore(t, seededStore(t), "store", "export", "--json")
	assert.Equal(t, 2, got.code)
	assert.Contains(t, got.out, `"code":"usage"`)
}

// diverged makes a store and an export of a piece that went on differently in it.
func diverged(t *testing.T) (here, file string) {
	t.Helper()
	here = seededStore(t, planted("hat", 3))
	before := onStore(t, here, "store", "export").out
	there := filepath.Join(t.TempDir(), "there.store")
	start := filepath.Join(t.TempDir(), "start.jsonl")
	require.NoError(t, os.WriteFile(start, []byte(before), 0o600))
	require.Zero(t, onStore(t, there, "store", "import", start, "--yes").code)
	inStore(t, here, func(tx *store.Tx) error { return plantEvents(tx, 1, []session.Event{&session.Ripped{Rows: 1}}) })
	inStore(t, there, func(tx *store.Tx) error { return plantEvents(tx, 1, []session.Event{&session.RowKnit{Row: 4}}) })
	file = filepath.Join(t.TempDir(), "later.jsonl")
	require.Zero(t, onStore(t, there, "store", "export", "-o", file).code)
	return here, file
}

func TestImportRefusesAConflictAndTakesItInApart(t *testing.T) {
	here, file := diverged(t)
	before := sumOf(t, here)
	got := onStore(t, here, "store", "import", file, "--yes")
	assert.Equal(t, 1, got.code)
	assert.Contains(t, got.err, "hat went on differently there from event 5 on")
	assert.Contains(t, got.err, "--apart")
	assert.Contains(t, got.err, "nothing was saved")
	assert.Equal(t, before, sumOf(t, here))

	body := mustJSON[answer.Imported](t, here, 0, "store", "import", file, "--apart", "--yes")
	assert.Equal(t, []answer.ImportedPiece{{Piece: "hat", Name: "hat 2", ImportedPiece: store.ImportedPiece{Fate: store.FateApart, Added: 5}}}, body.Pieces)
	assert.FileExists(t, body.Backup)
	assert.Zero(t, onStore(t, here, "store", "check").code)
	assert.Contains(t, onStore(t, here, "store", "import", file, "--apart", "--yes").out, "already there")
}

func TestImportRefusesAnotherPieceOfTheSameName(t *testing.T) {
	file := filepath.Join(t.TempDir(), "other.jsonl")
	require.Zero(t, onStore(t, seededStore(t, planted("hat", 1)), "store", "export", "-o", file).code)
	here := seededStore(t, planted("hat", 3))
	got := onStore(t, here, "store", "import", file, "--yes")
	assert.Equal(t, 1, got.code)
	assert.Contains(t, got.err, "another piece named hat")
	assert.Contains(t, got.err, "strandwise pieces rename")
}

func TestImportNamesTheLineOfADamagedFile(t *testing.T) {
	here := seededStore(t, planted("hat", 3))
	text := onStore(t, here, "store", "export").out
	lines := strings.SplitAfter(text, "\n")
	there := filepath.Join(t.TempDir(), "new.store")
	for cut := range len(lines) - 1 {
		file := filepath.Join(t.TempDir(), "cut.jsonl")
		require.NoError(t, os.WriteFile(file, []byte(strings.Join(lines[:cut], "")), 0o600))
		got := onStore(t, there, "store", "import", file, "--yes")
		assert.Equal(t, 3, got.code, "cut after line %d: %s", cut, got.err)
		assert.Contains(t, got.err, "cut.jsonl:")
	}
	for at := 7; at < len(text); at += 41 {
		broken := []byte(text)
		broken[at] ^= 1
		file := filepath.Join(t.TempDir(), "changed.jsonl")
		require.NoError(t, os.WriteFile(file, broken, 0o600))
		got := onStore(t, there, "store", "import", file, "--yes")
		assert.Equal(t, 3, got.code, "changed at byte %d: %s", at, got.err)
		line := 1 + bytes.Count(broken[:at], []byte("\n"))
		assert.Regexp(t, `changed\.jsonl:\d+:`, got.err, "line %d", line)
	}
	assert.NoFileExists(t, there)
}
