package cmd

import (
	"regexp"
	"strconv"

	"github.com/spf13/pflag"

	"strandwise/cmd/frame"
	"strandwise/cmd/paper"
)

var rowsForm = regexp.MustCompile(`^(\d+)(?::(\d+))?$`)

// rowRange reads the value of --rows or its like: one row or two with a colon, from 1 to
// last, both in. Word is what a row is called; there says which there are, in that word and
// the last.
func rowRange(flag, text string, last int, word, there string) (from, to int, err error) {
	m := rowsForm.FindStringSubmatch(text)
	if m == nil {
		return 0, 0, frame.Usage("--%s takes a %s or two, not %q", flag, word, text).Hint("--%s 3 or --%[1]s 3:20", flag)
	}
	from, errFrom := strconv.Atoi(m[1])
	to, errTo := from, error(nil)
	if m[2] != "" {
		to, errTo = strconv.Atoi(m[2])
	}
	if errFrom != nil || errTo != nil || from < 1 || to < from || to > last {
		return 0, 0, frame.Usage("--%s %s: "+there, flag, text, word, last).Hint("--%s 1:%d", flag, max(1, last))
	}
	return from, to, nil
}

// addPaper adds the flag of what paper a document is for.
func addPaper(set *pflag.FlagSet, to *string) {
	set.Var(frame.OneOf(to, paper.A4.Name, paper.Letter.Name), "paper", "paper of a PDF: `a4|letter` (default: letter where lengths are in inches, else a4)")
}

// paperNamed is the paper of that name; without one that of the units.
func paperNamed(name string, inches bool) paper.Paper {
	if name == paper.Letter.Name || name == "" && inches {
		return paper.Letter
	}
	return paper.A4
}
