//go:build faults

package cmd

// rounds is how often a test of many rounds goes round with the tag faults.
func rounds(_, many int) int { return many }
