package frame

import (
	"github.com/spf13/cobra"
)

// bare is a program of one command, save, that does nothing.
var bare = &Program{
	Root: Spec{Use: "strandwise"},
	Groups: []Group{{"all", "All", []func(*App) *cobra.Command{func(a *App) *cobra.Command {
		return a.Leaf(Spec{Use: "save"}, func(*App, []string) error { return nil })
	}}}},
	Shell:  "all",
	Before: func(arguments []string) []string { return arguments },
}

func newApp(env Env) *App { return New(env, bare) }

func fromMap(m map[string]string) func(string) string {
	return func(name string) string { return m[name] }
}

// failing is a writer that always fails.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
