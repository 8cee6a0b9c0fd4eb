package cmd

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/session"
)

// The header in force bears the higher number; a bit of it is turned.
func spoilNewestHeader(t *testing.T, path string) {
	t.Helper()
	const page, txid = 4096, 16 + 48
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	at := txid
	if binary.NativeEndian.Uint64(data[page+txid:]) > binary.NativeEndian.Uint64(data[txid:]) {
		at += page
	}
	data[at-8] ^= 1
	require.NoError(t, os.WriteFile(path, data, 0o600))
}

func TestDamagedHeaderNamesTheEventAndItsRow(t *testing.T) {
	path := seededStore(t, planted("cowl", 1), planted("hat", 3))
	done(t, path, "pieces", "switch", "hat")
	done(t, path, "knit")
	backup := filepath.Join(t.TempDir(), "kept.store")
	done(t, path, "store", "backup", "-o", backup)
	spoilNewestHeader(t, path)
	before := sumOf(t, path)
	for _, args := range [][]string{{"show"}, {"resume"}, {"pieces"}, {"settings"}, {"store", "restore", backup, "--dry-run"}} {
		said := strings.Join(strings.Fields(done(t, path, args...).err), " ")
		assert.Contains(t, said, "headers is damaged", args)
		assert.Contains(t, said, "the last event found, 4 of hat (round 3 knitted", args)
	}
	for _, args := range [][]string{{"store", "export"}, {"store", "backup"}, {"store", "check"}} {
		got := onStore(t, path, args...)
		assert.Equal(t, 6, got.code, args)
		said := strings.Join(strings.Fields(got.err), " ")
		assert.Contains(t, said, "headers is damaged", args)
		assert.Contains(t, said, "strandwise store salvage", args)
		assert.NotContains(t, got.out+got.err, "sound", args)
	}
	assert.Contains(t, strings.Join(strings.Fields(onStore(t, path, "store", "check").err), " "), "the last event found, 4 of hat (round 3 knitted")
	assert.Contains(t, onStore(t, path, "store", "check", "--json").out, `"sound":false`)
	assert.Equal(t, before, sumOf(t, path))
	said := strings.Join(strings.Fields(done(t, path, "knit").err), " ")
	assert.Contains(t, said, "the last event found, 4 of hat (round 3 knitted", "not the row that is logged now")
	assert.Empty(t, done(t, path, "show").err)
}

// Damage is told with the file, the piece by its name, and the event or the part.
func TestDamageNamesFilePieceAndPlace(t *testing.T) {
	noted := planted("cowl", 1)
	noted.events = append(noted.events, &session.Noted{Text: "slack tide"})
	for _, c := range []struct{ bytes, piece, want string }{
		{"slack tide", "cowl", ": piece cowl, event 3: "},
		{"title: ", "hat", ": piece hat: part lantern-band.chart: "},
	} {
		path := seededStore(t, noted, planted("hat", 3))
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Contains(t, string(data), c.bytes)
		require.NoError(t, os.WriteFile(path, bytes.ReplaceAll(data, []byte(c.bytes), bytes.ToUpper([]byte(c.bytes))), 0o600))
		for _, command := range []string{"show", "knit"} {
			got := onStore(t, path, command, "--piece", c.piece)
			assert.Equal(t, 6, got.code, got.err)
			assert.Contains(t, got.err, path+c.want)
		}
	}
}

// What leads on from a store that cannot be used is told, in words that can be typed.
func TestHintsForStoresThatCannotBeUsed(t *testing.T) {
	folder := t.TempDir()
	text, link, empty := filepath.Join(folder, "text.store"), filepath.Join(folder, "link.store"), filepath.Join(folder, "empty.store")
	require.NoError(t, os.WriteFile(text, []byte("low water, and not a store"), 0o600))
	require.NoError(t, os.WriteFile(empty, nil, 0o600))
	require.NoError(t, os.Symlink(filepath.Join(folder, "gone"), link))
	cast := []string{"cast-on", "hat", "../examples/lantern-band.chart"}
	for _, c := range []struct {
		store string
		args  []string
		code  int
		hint  string
	}{
		{text, []string{"show"}, 6, "--store PATH, if the store lies elsewhere"},
		{empty, []string{"show"}, 6, "strandwise store check, "},
		{empty, []string{"show"}, 6, "strandwise store salvage NEW-FILE, "},
		{link, cast, 5, "remove the link, "},
		{folder, []string{"show"}, 5, "a file that keeps pieces, "},
		{os.DevNull, cast, 5, "a file that keeps pieces, "},
		{seededStore(t, planted("hat", 1)), []string{"store", "salvage", text}, 1, "another name"},
		{"", []string{"show"}, 2, "--store PATH, or leave it out"},
	} {
		got := onStore(t, c.store, c.args...)
		assert.Equal(t, c.code, got.code, "%s %v: %s", c.store, c.args, got.err)
		assert.Contains(t, got.err, "\n  try: "+c.hint, "%s %v", c.store, c.args)
		assert.NotContains(t, got.err, "`")
	}
}
