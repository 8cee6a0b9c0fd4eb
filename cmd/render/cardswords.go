package render

import (
	"fmt"
	"strings"

	"strandwise/session"
)

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

// unbroken is a row for a glance of which lines break between its runs only.
func unbroken(g session.Glance) string {
	text := g.Head()
	for i, p := range g.Phrases {
		if i > 0 {
			text += ","
		}
		text += " " + strings.ReplaceAll(p.Text(), " ", noBreak)
	}
	return text
}
