package cmd

import (
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
)

// look is how the answer appears on stdout.
func look(a *frame.App) document.Look {
	return a.Display().Look
}

// words is an answer that people read too.
type words interface{ Document() document.Document }

// write prints an answer: its JSON, of that schema, where a program asks, else its document.
func write(a *frame.App, schema int, answer words) error {
	if a.Flags.JSON {
		return a.AnswerJSON(schema, answer)
	}
	return a.Show(answer.Document())
}
