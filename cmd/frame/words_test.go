package frame

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCounted(t *testing.T) {
	assert.Equal(t, "1 stitch", Counted(1, "stitch"))
	assert.Equal(t, "2 stitches", Counted(2, "stitch"))
	assert.Equal(t, "0 rows", Counted(0, "row"))
	assert.Equal(t, "rounds", Plural("round", 22))
}
