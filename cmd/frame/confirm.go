package frame

import (
	"bufio"
	"fmt"
	"strings"

	"strandwise/cmd/document"
)

// Confirm asks before something is dropped; what names it, as in "remove hat". It returns nil
// when the knitter agrees, by an answer or by --yes. Without a terminal nobody can
// answer, so it refuses.
func (a *App) Confirm(what string) error {
	if a.Flags.Yes {
		return nil
	}
	if !a.CanAsk() {
		return Usage("this would %s; add --yes", what).
			Hint("the same command with --yes")
	}
	answer, err := a.Ask(what + "? Type yes to go on: ")
	if err != nil {
		return err
	}
	if word := strings.ToLower(answer); word == "yes" || word == "y" {
		return nil
	}
	return Refused("nothing was changed")
}

// WarnBefore prints what must be read before a question is answered, with the question, on
// stderr. Where --yes answers, or nobody can, it is not.
func (a *App) WarnBefore(d document.Document) {
	if !a.Flags.Yes && a.CanAsk() {
		a.Tell(d)
	}
}

// CanAsk reports whether there is a terminal to ask on.
func (a *App) CanAsk() bool { return a.Env.InTTY && a.Env.ErrTTY }

// Ask puts a question as it stands and returns the line that answers it, without blanks
// around; empty where the input ends first.
func (a *App) Ask(question string) (string, error) {
	fmt.Fprint(a.Err, question)
	if a.answers == nil {
		a.answers = bufio.NewReader(a.Env.In)
	}
	answer, err := a.answers.ReadString('\n')
	if a.ctx.Err() != nil {
		return "", a.ctx.Err()
	}
	if err != nil {
		return "", nil // the end of the input is no answer
	}
	return strings.TrimSpace(answer), nil
}
