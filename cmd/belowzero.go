package cmd

import (
	"slices"
	"strings"
)

// belowZero moves a number below zero behind "--" on the command line of a command that
// takes a number: so the command can say which it takes, and not that it has no such flag.
// A number behind a flag is left there.
func belowZero(args []string) []string {
	if len(args) < 2 || args[0] != "rip" && args[0] != "pause" {
		return args
	}
	for i := 1; i < len(args) && args[i] != "--"; i++ {
		digits, below := strings.CutPrefix(args[i], "-")
		if below && digits != "" && strings.Trim(digits, "0123456789") == "" && !strings.HasPrefix(args[i-1], "-") {
			return append(slices.Delete(slices.Clone(args), i, i+1), "--", args[i])
		}
	}
	return args
}
