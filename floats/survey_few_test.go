//go:build !survey

package floats

// How many random pieces the normal suite tries.
const (
	randomCharts     = 30
	randomEffort     = 40
	randomDeviations = 500
)
