package cmd

import (
	"bufio"
	"context"
	"fmt"
	"strings"
)

// confirm asks before something is dropped, which must be named. It returns nil
// when the knitter agrees, by an answer or by --yes. Without a terminal nobody can
// answer, so it refuses.
func (a *app) confirm(ctx context.Context, what string) error {
	if a.flags.yes {
		return nil
	}
	if !a.env.InTTY || !a.env.ErrTTY {
		return usage("%s: that needs a yes, and there is no terminal to ask on", what).
			hint("the same command with --yes")
	}
	fmt.Fprintf(a.err, "%s? Type yes to go on: ", what)
	answer, err := bufio.NewReader(a.env.In).ReadString('\n')
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if word := strings.ToLower(strings.TrimSpace(answer)); err == nil && (word == "yes" || word == "y") {
		return nil
	}
	return refused("not confirmed: all was left as it is")
}
