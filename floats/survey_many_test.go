//go:build survey

package floats

// How many random pieces the surveys try.
const (
	randomCharts     = 2000
	randomEffort     = 40
	randomDeviations = 5000
)
