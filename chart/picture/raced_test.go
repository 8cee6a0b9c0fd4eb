//go:build race

package picture

// slower is how much longer a test may take under the race detector.
const slower = 10
