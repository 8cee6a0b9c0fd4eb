package frame

import (
	"bufio"
	"context"
	"fmt"
	"strings"
)

// Confirm asks before something is dropped, which must be named. It returns nil
// when the knitter agrees, by an answer or by --yes. Without a terminal nobody can
// answer, so it refuses.
func (a *App) Confirm(ctx context.Context, what string) error {
	if a.Flags.Yes {
		return nil
	}
	if !a.Env.InTTY || !a.Env.ErrTTY {
		return Usage("%s: that needs a yes, and there is no terminal to ask on", what).
			Hint("the same command with --yes")
	}
	fmt.Fprintf(a.Err, "%s? Type yes to go on: ", what)
	answer, err := bufio.NewReader(a.Env.In).ReadString('\n')
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if word := strings.ToLower(strings.TrimSpace(answer)); err == nil && (word == "yes" || word == "y") {
		return nil
	}
	return Refused("not confirmed: all was left as it is")
}
