package cmd

import (
	"bytes"
	"encoding/binary"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// damageEvent flips one bit of an event wherever the file has it, in pages no longer
// used too. An event lies in the file as its number, 8 bytes, and behind it its value,
// in which the UID of the piece follows 19 bytes.
func damageEvent(t *testing.T, path string, id store.PieceID, seq uint64) {
	t.Helper()
	whole, err := store.ReadParcel([]byte(exportOf(t, path)), "export")
	require.NoError(t, err)
	at := -1
	inStore(t, path, func(tx *store.Tx) error { at = slices.Index(tx.Pieces(), id); return nil })
	uid := whole.Pieces[at].UID
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
