package answer

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"strandwise/cmd/knitted"
)

// Whatever was made otherwise is told run by run, read and heard alike.
func TestWhatWasMadeOtherwiseIsHeardAsItIsRead(t *testing.T) {
	told := 0
	for seed := range uint64(200) {
		p := knitted.Random(seed).Knit(t)
		for row := 1; row <= p.State.Row; row++ {
			read, heard := p.AsMade(row)
			assert.Len(t, heard, len(read), "seed %d, row %d", seed, row)
			told += len(read)
		}
	}
	assert.Greater(t, told, 100)
}
