package cmd

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/stored"
	"strandwise/store"
)

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
