package cmd

import (
	"bytes"
	"encoding/binary"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// damageEvent flips one bit of an event wherever the file has it, in pages no longer
// used too. An event lies in the file as its number, 8 bytes, and behind it its value,
// in which the UID of the piece follows 19 bytes.
func damageEvent(t *testing.T, path string, id store.PieceID, seq uint64) {
	t.Helper()
	var uid store.UID
	require.NoError(t, store.At(path, store.Options{}).View(t.Context(), func(tx *store.Tx) (err error) {
		uid, err = tx.UID(id)
		return err
	}))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	number, found := binary.BigEndian.AppendUint64(nil, seq), 0
	for at := 0; ; at += len(number) {
		next := bytes.Index(data[at:], number)
		if next < 0 {
			break
		}
		at += next
		if at+35 <= len(data) && bytes.Equal(data[at+27:at+35], uid[:]) {
			data[at+18] ^= 1 // of its second
			found++
		}
	}
	require.Positive(t, found, "the event is not in the file")
	require.NoError(t, os.WriteFile(path, data, 0o600))
}

func TestDamageToAnEventNamesItAndSparesTheOtherPieces(t *testing.T) {
	path := seededStore(t, planted("hat", 6), planted("cowl", 4))
	damageEvent(t, path, 1, 3)
	w := terminalOn(t, path)
	for _, args := range [][]string{{"knit"}, {"show"}, {"undo"}, {"history"}, {"review"}, {"resume"}, {"store", "check"}, {"store", "export"}, {"store", "backup"}} {
		if args[0] != "store" {
			args = append(args, "--piece", "hat")
		}
		got := w.wants(6, "", args...)
		assert.Contains(t, got.err+got.out, "event 3", args)
	}
	for _, args := range [][]string{{"show"}, {"history"}, {"review"}, {"resume"}} {
		w.wants(0, "", append(args, "--piece", "cowl")...)
	}
	got := w.run("knit", "--piece", "cowl")
	assert.Zero(t, got.code, got.err)
	assert.Contains(t, got.err, "event 3")
	assert.Contains(t, got.err, "strandwise store check")
}

// On a long log a step reads the brief of the piece and looks at no event below. It shows and
// logs what was logged, since the brief has the true values; that an event is damaged
// comes out with the day's first step, whose backup reads everything, and with every
// command that tells of all events.
func TestDamageBelowTheBrief(t *testing.T) {
	path := longLog(t)
	made := mustJSON[madeBackupBody](t, path, 0, "store", "backup")
	shown := onStore(t, path, "show")
	before := eventsOf(t, path)
	damageEvent(t, path, 1, 9)

	backups := filesIn(t, path+".backups")
	for range 2 { // each step tells, until it is mended
		got := onStoreAt(t, seedTime.AddDate(0, 0, 40), path, "note", "the tide is out")
		assert.Zero(t, got.code, got.err)
		assert.Contains(t, got.err, "today's backup could not be made")
		assert.Contains(t, got.err, "piece 1, event 9")
		assert.Contains(t, got.err, "try: strandwise store check")
		assert.Contains(t, got.err, "newest backup: "+made.Path)
	}
	assert.Equal(t, before+2, eventsOf(t, path))
	assert.Equal(t, backups, filesIn(t, path+".backups"), "none is rotated out, none is made")

	assert.Equal(t, shown.out, onStore(t, path, "show").out)
	for _, args := range [][]string{{"history"}, {"history", "--last", "3"}, {"resume"}, {"undo"}, {"review"}, {"review", "--json"}, {"store", "check"}, {"store", "export"}, {"store", "backup"}} {
		got := onStore(t, path, args...)
		assert.Equal(t, 6, got.code, args)
		assert.Contains(t, got.err+got.out, "event 9", args)
	}

	got := onStore(t, path, "store", "restore", "--yes")
	require.Zero(t, got.code, got.err)
	requireSound(t, path)
	assert.Equal(t, before, eventsOf(t, path))
}

// onStoreAt is onStore at a time of its own.
func onStoreAt(t *testing.T, at time.Time, path string, args ...string) ran {
	t.Helper()
	return runMain(t, Env{Now: func() time.Time { return at }}, append(args, "--store", path)...)
}

// filesIn lists a folder.
func filesIn(t *testing.T, folder string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}
