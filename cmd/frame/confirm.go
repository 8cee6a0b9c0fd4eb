package frame

import (
	"bufio"
	"context"
	"fmt"
	"strings"
)

// Confirm asks before something is dropped; what names it, as in "remove hat". It returns nil
// when the knitter agrees, by an answer or by --yes. Without a terminal nobody can
// answer, so it refuses.
func (a *App) Confirm(ctx context.Context, what string) error {
	if a.Flags.Yes {
		return nil
	}
	if !a.Env.InTTY || !a.Env.ErrTTY {
		return Usage("this would %s; add --yes", what).
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
	return Refused("nothing was changed")
}
