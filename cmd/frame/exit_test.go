package frame

import (
	"errors"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestExitTable(t *testing.T) {
	var codes []int
	words := map[string]bool{}
	for _, exit := range slices.Sorted(maps.Keys(exits)) {
		row := exits[exit]
		codes = append(codes, int(exit))
		assert.NotEmpty(t, row.meaning)
		words[row.word] = true
	}
	assert.Equal(t, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 70, 130}, codes)
	assert.Len(t, words, len(codes))
}

func TestSavedNothingIsPromisedForOneToFive(t *testing.T) {
	for exit, row := range exits {
		assert.Equal(t, exit >= 1 && exit <= 5, exit.SavedNothing(), row.word)
	}
}

func TestRulesNameEachErrorOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rules {
		assert.False(t, seen[r.kind], r.kind)
		seen[r.kind] = true
	}
}

func TestUnlistedErrorIsOurOwnFault(t *testing.T) {
	assert.Equal(t, ExitBug, Describe(errors.New("what is this")).Exit)
}
