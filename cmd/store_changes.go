package cmd

import (
	"fmt"
	"io"

	"strandwise/cmd/frame"
	"strandwise/store"
)

// warnings is where to print what must be read before a question is answered: with
// the question, on stderr. Where --yes answers, or nobody can, it is nowhere.
func warnings(a *frame.App) io.Writer {
	if a.Flags.Yes || !a.Env.InTTY || !a.Env.ErrTTY {
		return io.Discard
	}
	return a.Err
}

// showChanges says, a piece a line, what a restore drops and what it brings.
func showChanges(a *frame.App, w io.Writer, r store.Restored) {
	if r.Unreadable != "" {
		a.Sentence(w, "The present store cannot be compared: %s.", r.Unreadable)
		a.Sentence(w, "The backup has %s.", frame.Listed([]string{frame.Counted(r.Contents.Pieces, "piece"), frame.Counted(r.Contents.Events, "event")}, "and"))
		return
	}
	if len(r.Changes) == 0 {
		a.Sentence(w, "The backup holds the same as the store.")
	}
	for _, c := range r.Changes {
		a.Sentence(w, "%s: %s.", changeName(c), changeWords(c))
	}
}

func changeWords(c store.Change) string {
	switch {
	case !c.There:
		return fmt.Sprintf("goes, with %s; the backup does not have it", events(c.Before))
	case !c.Here:
		return fmt.Sprintf("comes back, with %s", events(c.After))
	case c.After < c.Before:
		return fmt.Sprintf("%s here, %d in the backup: the last %s", events(c.Before), c.After, goOrCome(c.Before-c.After, "go", "goes"))
	case c.After > c.Before:
		return fmt.Sprintf("%s here, %d in the backup: %s back", events(c.Before), c.After, goOrCome(c.After-c.Before, "come", "comes"))
	}
	return fmt.Sprintf("%s in both, but not the same ones", events(c.Before))
}

// goOrCome is a number of events with its verb.
func goOrCome(n uint64, many, one string) string {
	if n == 1 {
		return "one " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func events(n uint64) string { return frame.Counted(int(n), "event") }
