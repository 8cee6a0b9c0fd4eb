package cmd

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// testsIn names the tests of a folder.
func testsIn(t *testing.T, folder string) map[string]bool {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*_test.go"))
	require.NoError(t, err)
	names := map[string]bool{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, m := range regexp.MustCompile(`(?m)^func (Test\w+)\(`).FindAllStringSubmatch(string(text), -1) {
			names[m[1]] = true
		}
	}
	return names
}

// TestEveryFaultCaseHasItsTests holds the table of fault cases against the tests there
// are: each row names one at least, and each one named is in the package of its column.
func TestEveryFaultCaseHasItsTests(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	require.NoError(t, err)
	_, table, found := strings.Cut(string(text), "## Fault cases of the store")
	require.True(t, found)
	inStore, inCmd := testsIn(t, "../store"), testsIn(t, ".")
	rows := 0
	for line := range strings.Lines(table) {
		cells := strings.Split(strings.TrimSpace(line), "|")
		if len(cells) != 7 || !strings.Contains(line, "Test") {
			assert.False(t, strings.HasPrefix(line, "|") && rows > 0, "a row without a test: %s", line)
			continue
		}
		rows++
		requireNames(t, cells[3], inStore)
		first, _, _ := strings.Cut(strings.TrimSpace(cells[3]), ",")
		requireNames(t, strings.ReplaceAll(cells[4], "the same name", first), inCmd)
	}
	assert.GreaterOrEqual(t, rows, 40)
}

// requireNames wants every test of a cell to be there.
func requireNames(t *testing.T, cell string, there map[string]bool) {
	t.Helper()
	for _, name := range strings.FieldsFunc(cell, func(r rune) bool { return r == ',' || r == ' ' }) {
		assert.True(t, there[name], "there is no test %s", name)
	}
}
