package chart

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What each technique uses up and makes; common practice, no source.
func TestTechniques(t *testing.T) {
	want := []struct {
		word        string
		uses, makes int
		shaped      bool
	}{
		{"knit", 1, 1, false},
		{"purl", 1, 1, false},
		{"slip", 1, 1, false},
		{"k2tog", 2, 1, true},
		{"ssk", 2, 1, true},
		{"k3tog", 3, 1, true},
		{"sk2p", 3, 1, true},
		{"cdd", 3, 1, true},
		{"yo", 0, 1, true},
		{"m1", 0, 1, true},
		{"m1l", 0, 1, true},
		{"m1r", 0, 1, true},
		{"kfb", 1, 2, true},
	}
	require.Len(t, techniques, len(want))
	for i := range techniques {
		technique := Technique(i)
		read, err := ParseTechnique(want[i].word)
		require.NoError(t, err)
		assert.Equal(t, technique, read)
		assert.Equal(t, want[i].word, technique.String())
		assert.Equal(t, want[i].uses, technique.Uses(), technique)
		assert.Equal(t, want[i].makes, technique.Makes(), technique)
		assert.Equal(t, want[i].shaped, technique.Shaped(), technique)
	}
}

func TestParseTechniqueSuggests(t *testing.T) {
	_, err := ParseTechnique("k2tgo")
	assert.EqualError(t, err, `"k2tgo" is not a technique: did you mean k2tog?`)
	_, err = ParseTechnique("bobble")
	assert.ErrorContains(t, err, "the techniques are knit, purl, slip")
}
