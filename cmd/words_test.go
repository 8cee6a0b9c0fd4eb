package cmd

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCounted(t *testing.T) {
	assert.Equal(t, "1 stitch", counted(1, "stitch"))
	assert.Equal(t, "2 stitches", counted(2, "stitch"))
	assert.Equal(t, "0 rows", counted(0, "row"))
	assert.Equal(t, "rounds", plural("round", 22))
}
