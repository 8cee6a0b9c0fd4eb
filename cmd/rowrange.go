package cmd

import (
	"regexp"
	"strconv"

	"strandwise/cmd/frame"
)

var rowsForm = regexp.MustCompile(`^(\d+)(?::(\d+))?$`)

// rowRange reads the value of --rows: one row or two with a colon, from 1 to last, both in.
// Word is what a row is called; there says which there are, in that word and the last.
func rowRange(text string, last int, word, there string) (from, to int, err error) {
	m := rowsForm.FindStringSubmatch(text)
	if m == nil {
		return 0, 0, frame.Usage("--rows takes a %s or two, not %q", word, text).Hint("--rows 3 or --rows 3:20")
	}
	from, errFrom := strconv.Atoi(m[1])
	to, errTo := from, error(nil)
	if m[2] != "" {
		to, errTo = strconv.Atoi(m[2])
	}
	if errFrom != nil || errTo != nil || from < 1 || to < from || to > last {
		return 0, 0, frame.Usage("--rows %s: "+there, text, word, last).Hint("--rows 1:%d", max(1, last))
	}
	return from, to, nil
}
