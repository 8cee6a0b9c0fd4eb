package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd"
)

func TestEveryCommandHasAPage(t *testing.T) {
	t.Setenv("SOURCE_DATE_EPOCH", "86400")
	folder := filepath.Join(t.TempDir(), "man")
	require.NoError(t, write(folder))
	commands := cmd.Root().Commands()
	require.NotEmpty(t, commands)
	for _, c := range commands {
		page, err := os.ReadFile(filepath.Join(folder, strings.ReplaceAll(c.CommandPath(), " ", "-")+".1"))
		require.NoError(t, err)
		assert.Contains(t, string(page), "Jan 1970")
		assert.Contains(t, string(page), ".SH EXAMPLE")
		assert.NotContains(t, string(page), "Auto generated")
	}
}

func TestTheFirstPageHasTheExitStatuses(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, write(folder))
	page, err := os.ReadFile(filepath.Join(folder, "strandwise.1"))
	require.NoError(t, err)
	_, statuses, _ := strings.Cut(string(page), ".SH EXIT STATUS\n")
	statuses, _, _ = strings.Cut(statuses, ".SH OPTIONS")
	assert.Contains(t, statuses, "\n2: wrong usage\n")
}

func TestPagesAreTheSameEveryTime(t *testing.T) {
	t.Setenv("SOURCE_DATE_EPOCH", "86400")
	one, two := t.TempDir(), t.TempDir()
	require.NoError(t, write(one))
	require.NoError(t, write(two))
	entries, err := os.ReadDir(one)
	require.NoError(t, err)
	require.NotEmpty(t, entries)
	for _, e := range entries {
		a, err := os.ReadFile(filepath.Join(one, e.Name()))
		require.NoError(t, err)
		b, err := os.ReadFile(filepath.Join(two, e.Name()))
		require.NoError(t, err)
		assert.Equal(t, string(a), string(b), e.Name())
	}
}
