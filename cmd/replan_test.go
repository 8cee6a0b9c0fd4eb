package cmd

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/cmd/answer"
)

// drawnCatch matches a catch in a drawing: its row, repeat, stitch and yarn.
var drawnCatch = regexp.MustCompile(`data-row="(\d+)" data-repeat="(\d+)" data-stitch="(\d+)" data-yarn="(.)"[^>]* data-catch=`)

// The page of a replan shows before what goes and after what comes, in every row and repeat, and
// all else in both.
func TestReplanIsDrawnBeforeAndAfter(t *testing.T) {
	path, page := filepath.Join(t.TempDir(), "store"), filepath.Join(t.TempDir(), "page.html")
	// Two repeats are drawn whole, with what is read here; large pieces leave it out.
	done(t, path, "cast-on", "hat", "example:lantern-band@2", "--limit", "5", "--hold", "two-hands", "--yes")
	got := mustJSON[struct {
		Differences []struct{ Gone, Come []printedCatch }
		Before      int `json:"catches_before"`
		After       int `json:"catches_after"`
	}](t, path, 0, "replan", "--limit", "3", "--dry-run", "--sheet", page)
	html, err := os.ReadFile(page)
	require.NoError(t, err)
	before, after := map[string]bool{}, map[string]bool{}
	for _, part := range strings.Split(string(html), "Before:")[1:] {
		was, now, two := strings.Cut(part, "After:")
		require.True(t, two)
		for text, all := range map[string]map[string]bool{was: before, now: after} {
			for _, m := range drawnCatch.FindAllStringSubmatch(text, -1) {
				all[strings.Join(m[1:], " ")] = true
			}
		}
	}
	gone, come := 0, 0
	for _, row := range got.Differences {
		gone, come = gone+len(row.Gone), come+len(row.Come)
	}
	require.Positive(t, gone)
	require.Positive(t, come)
	only := func(a, b map[string]bool) (n int) {
		for catch := range a {
			if !b[catch] {
				n++
			}
		}
		return n
	}
	assert.Equal(t, gone, only(before, after))
	assert.Equal(t, come, only(after, before))
	assert.Equal(t, got.After-got.Before, come-gone)

	assert.Equal(t, 2, onStore(t, path, "replan", "--limit", "3", "--sheet", "page.pdf").code)
	assert.Contains(t, onStore(t, path, "replan", "--limit", "3", "--dry-run", "--sheet", "-").out, "After:")
	assert.NotZero(t, onStore(t, path, "replan", "--limit", "3", "--sheet", page).code, "a page is there")
	assert.Equal(t, 5, mustJSON[answer.Replan](t, path, 0, "replan", "--limit", "5", "--dry-run").Limit, "nothing was logged")
}
