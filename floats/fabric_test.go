package floats

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strandwise/chart"
)

// A first row of yarn overs uses up no stitch, so there is none for plain rows below it.
func TestPlainRowsOfNoStitches(t *testing.T) {
	c, err := chart.Parse("", []byte("yarn: . oat #EFE6D2\nyarn: x fjord #1F4E79\nstitch: / . yo\nrows:\n////\n"))
	require.NoError(t, err)
	_, err = Lay([]Part{{Name: "plain", Plain: '.', Rows: 1}, {Name: "lace", Chart: c, Repeats: 1, Times: 1}}, Work{})
	var e *LayError
	require.ErrorAs(t, err, &e)
	assert.Contains(t, e.What, "part plain would have rows of no stitches")
}
