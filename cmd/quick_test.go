package cmd

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A command made alone is the one of the whole tree.
func TestQuickCommandsAreTheSame(t *testing.T) {
	for name := range quick {
		alone := newApp(Env{Args: []string{name}}).root
		require.Len(t, alone.Commands(), 1, name)
		whole := childNamed(Root(), name)
		require.NotNil(t, whole, name)
		assert.Equal(t, whole.CommandPath(), alone.Commands()[0].CommandPath())
		assert.Empty(t, whole.Commands(), "%s has parts", name)
		assert.Empty(t, whole.Aliases, "%s has another name", name)
		help := runMain(t, Env{}, name, "--help").out
		assert.Equal(t, runMain(t, Env{}, "help", name).out, help)
		assert.Equal(t, runMain(t, Env{}, "--quiet", name, "--nonsense").err, runMain(t, Env{}, name, "--nonsense").err)
	}
}
