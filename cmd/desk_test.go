package cmd

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/stored"
	"strandwise/store"
)

// Whatever a command changes, the plan that follows from it is in the store when it
// ends: what comes next does not plan.
func TestEveryChangeLeavesItsPlan(t *testing.T) {
	path := seededStore(t, planted("hat", 3))
	for _, args := range [][]string{
		{"knit"},
		{"hold", "--hold", "one-at-a-time", "--method", "twist"},
		{"undo"},
		{"replan", "--limit", "4"},
		{"rip", "2", "--yes"},
		{"undo"},
		{"undo"},
	} {
		got := onStore(t, path, args...)
		require.Zero(t, got.code, "%v: %s", args, got.err)
		inStore(t, path, func(tx *store.Tx) error {
			p, err := stored.Open(tx, "hat", "%s")
			require.NoError(t, err)
			assert.NotNil(t, p.Schedule, args)
			return nil
		})
	}
}
