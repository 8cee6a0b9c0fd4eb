package render

import (
	"fmt"
	"strings"
)

// numbered is a row's number and the row for a glance.
func numbered(r *CardRow) string { return fmt.Sprintf("%d: %s", r.Number, r.Glance) }

// steps are the steps of a motion in one text, numbered when there are several.
func (m CardMotion) steps() string {
	if len(m.Steps) == 1 {
		return m.Steps[0]
	}
	steps := make([]string, len(m.Steps))
	for i, s := range m.Steps {
		steps[i] = fmt.Sprintf("%d. %s", i+1, s)
	}
	return strings.Join(steps, "; ")
}

// noBreak is the space at which no line is broken.
const noBreak = "\u00A0"

// unbroken joins the pieces of a row so that lines break between them only.
func unbroken(pieces []string) string {
	kept := make([]string, len(pieces))
	for i, p := range pieces {
		kept[i] = strings.ReplaceAll(p, " ", noBreak)
	}
	return strings.Join(kept, " ")
}
