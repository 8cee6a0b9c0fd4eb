package cmd

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/stored"
	"strandwise/store"
)

func TestHistoryAsATable(t *testing.T) {
	path := seededStore(t, planted("hat", 1))
	for _, args := range [][]string{{"note", "=1+1, \"tide\""}, {"undo"}} {
		require.Zero(t, onStore(t, path, args...).code)
	}
	got := onStore(t, path, "history", "--csv", "--last", "3")
	require.Zero(t, got.code, got.err)
	records, err := csv.NewReader(strings.NewReader(got.out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, records, 4)
	assert.Equal(t, []string{"number", "at", "kind", "words", "undone"}, records[0])
	assert.Equal(t, []string{"3", "note"}, []string{records[2][0], records[2][2]})
	assert.Contains(t, records[2][3], "=1+1, \"tide\"")
	assert.Equal(t, "yes", records[2][4])
	assert.Equal(t, 4, strings.Count(got.out, "\r\n"))
	assert.Equal(t, 2, onStore(t, path, "history", "--csv", "--json").code)
}

func TestCellsThatASpreadsheetWouldRun(t *testing.T) {
	for _, cell := range []string{"=1+1", "+1", "-1", "@pier", "\ttab"} {
		assert.Equal(t, "'"+cell, harmless(cell))
	}
	for _, cell := range []string{"plain", "", "a=b", "say \"tide\""} {
		assert.Equal(t, cell, harmless(cell))
	}
}

func TestPieceIsFoundByName(t *testing.T) {
	path := seededStore(t, planted("hat", 3), planted(`a "quoted" <cap> é`, 1), planted("hat 2", 0))
	inStore(t, path, func(tx *store.Tx) error {
		for name, want := range map[string]store.PieceID{"hat": 1, `a "quoted" <cap> é`: 2, "hat 2": 3} {
			found, err := stored.Find(tx, name, "%s")
			require.NoError(t, err)
			assert.Equal(t, want, found.ID, name)
		}
		return nil
	})
}

func TestPieceThatIsNotThere(t *testing.T) {
	path := seededStore(t, planted("harbor hat", 3), planted("cowl", 1))
	got := onStore(t, path, "show", "--piece", "harber hat")
	assert.Equal(t, 1, got.code)
	assert.Contains(t, got.err, "there is no piece named harber hat\n  try: --piece \"harbor hat\"\n")
	got = onStore(t, path, "show")
	assert.Contains(t, got.err, "there are 2 pieces and none is chosen\n  try: strandwise pieces cowl\n")
}
