package cmd

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/cmd/answer"
)

// The page is written beside the answer, and what it must not be is refused before anything is
// logged.
func TestReplanSheet(t *testing.T) {
	path, page := seededStore(t, planted("hat", 6)), filepath.Join(t.TempDir(), "page.html")
	mustJSON[answer.Replan](t, path, 0, "replan", "--limit", "3", "--dry-run", "--sheet", page)
	assert.FileExists(t, page)
	assert.Equal(t, 2, onStore(t, path, "replan", "--limit", "3", "--sheet", "page.pdf").code)
	assert.Contains(t, onStore(t, path, "replan", "--limit", "3", "--dry-run", "--sheet", "-").out, "After:")
	assert.NotZero(t, onStore(t, path, "replan", "--limit", "3", "--sheet", page).code, "a page is there")
	assert.Equal(t, 5, mustJSON[answer.Replan](t, path, 0, "replan", "--limit", "5", "--dry-run").Limit, "nothing was logged")
}
