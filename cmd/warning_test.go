package cmd

import (
	"encoding/binary"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
	spoilNewestHeader(t, path)
	before := sumOf(t, path)
	for _, args := range [][]string{{"show"}, {"resume"}, {"pieces"}, {"store", "check"}} {
		said := strings.Join(strings.Fields(done(t, path, args...).err), " ")
		assert.Contains(t, said, "headers is damaged", args)
		assert.Contains(t, said, "the last event found, 4 of hat (round 3 knitted", args)
	}
	assert.Contains(t, done(t, path, "store", "check", "--json").out, "4 of hat (round 3 knitted")
	assert.Equal(t, before, sumOf(t, path))
	assert.Contains(t, done(t, path, "knit").err, "4 of hat")
	assert.Empty(t, done(t, path, "show").err)
}
