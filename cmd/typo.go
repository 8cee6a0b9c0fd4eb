package cmd

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/chart"
)

// unknownCommand is the fault of a word that names no command below c. It offers
// the nearest name at this level, else the same name at another.
func unknownCommand(c *cobra.Command, word string) error {
	f := usage("unknown command %q", word)
	if c.HasParent() {
		f = usage("%s has no part %q", c.CommandPath(), word)
	}
	if near := nearestCommand(c, word); near != "" {
		return f.hint("%s", near)
	}
	return f.hint("%s --help, which lists what there is", c.CommandPath())
}

func nearestCommand(c *cobra.Command, word string) string {
	if path := pathOf(c, nearest(word, commandNames(c))); path != "" {
		return path
	}
	for _, level := range withBelow(c.Root()) {
		if slices.Contains(commandNames(level), word) {
			return pathOf(level, word)
		}
	}
	return ""
}

// nearest is the choice closest to word; where none is close, the only one that
// word begins, or the only one of which it has some of the letters in order.
func nearest(word string, choices []string) string {
	if near := chart.Nearest(word, choices); near != "" || word == "" {
		return near
	}
	if begun := only(choices, func(choice string) bool { return strings.HasPrefix(choice, word) }); begun != "" {
		return begun
	}
	return only(choices, func(choice string) bool { return leavesOut(word, choice) })
}

// only is the one choice that fits; empty where none does or several.
func only(choices []string, fits func(string) bool) string {
	found := ""
	for _, choice := range choices {
		if fits(choice) {
			if found != "" {
				return ""
			}
			found = choice
		}
	}
	return found
}

// leavesOut reports whether a word of three letters or more is another with some left
// out, but for the first: mitn for mitten.
func leavesOut(word, whole string) bool {
	typed, meant := []rune(word), []rune(whole)
	if len(typed) < 3 || len(meant) == 0 || typed[0] != meant[0] {
		return false
	}
	for _, r := range meant {
		if len(typed) > 0 && typed[0] == r {
			typed = typed[1:]
		}
	}
	return len(typed) == 0
}

// commandNames are the names and aliases of the commands right below c.
func commandNames(c *cobra.Command) []string {
	var names []string
	for _, child := range c.Commands() {
		if !child.Hidden {
			names = append(append(names, child.Name()), child.Aliases...)
		}
	}
	return names
}

func pathOf(c *cobra.Command, name string) string {
	if name == "" {
		return ""
	}
	return c.CommandPath() + " " + name
}

func withBelow(c *cobra.Command) []*cobra.Command {
	all := []*cobra.Command{c}
	for _, child := range c.Commands() {
		all = append(all, withBelow(child)...)
	}
	return all
}

// flagFault explains an error in the flags of c. A mistyped command in front of
// them is the likelier cause and comes first.
func (a *app) flagFault(c *cobra.Command, err error) error {
	if words := c.Flags().Args(); c.HasSubCommands() && len(words) > 0 {
		return unknownCommand(c, words[0])
	}
	var unknown *pflag.NotExistError
	var invalid *pflag.InvalidValueError
	var lacking *pflag.ValueRequiredError
	switch {
	case errors.As(err, &unknown):
		return a.unknownFlag(c, unknown)
	case errors.As(err, &invalid):
		return invalidValue(invalid)
	case errors.As(err, &lacking):
		name, _ := pflag.UnquoteUsage(lacking.GetFlag())
		return usage("--%s needs a value", lacking.GetFlag().Name).
			hint("--%s %s", lacking.GetFlag().Name, name)
	}
	return usage("%s: %v", c.CommandPath(), err).hint("%s --help", c.CommandPath())
}

func (a *app) unknownFlag(c *cobra.Command, e *pflag.NotExistError) error {
	if letters := e.GetSpecifiedShortnames(); letters != "" {
		f := usage("%s has no flag -%s", c.CommandPath(), letters)
		if near := nearest(letters, flagNames(c)); near != "" {
			return f.hint("--%s", near)
		}
		return f.hint("%s --help, which lists the flags; what begins with - and is no flag goes after --", c.CommandPath())
	}
	f := usage("%s has no flag --%s", c.CommandPath(), e.GetSpecifiedName())
	if meant := a.program.noFlag[underRoot(c)+" --"+e.GetSpecifiedName()]; meant != "" {
		return f.hint("%s", meant)
	}
	if near := nearest(e.GetSpecifiedName(), flagNames(c)); near != "" {
		return f.hint("--%s", near)
	}
	return f.hint("%s --help, which lists the flags", c.CommandPath())
}

func flagNames(c *cobra.Command) []string {
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, f.Name)
		}
	})
	return names
}

// valueWords says what a flag of each type takes.
var valueWords = map[string]string{
	"int":      "a whole number",
	"uint":     "a whole number, 0 or more",
	"uint64":   "a whole number, 0 or more",
	"float64":  "a number",
	"bool":     "true or false",
	"duration": "a time such as 30m or 1h",
}

func invalidValue(e *pflag.InvalidValueError) error {
	flag := e.GetFlag()
	name, _ := pflag.UnquoteUsage(flag)
	var words *choiceError
	if errors.As(e, &words) {
		return usage("--%s %v", flag.Name, words).hint("--%s %s", flag.Name, words.meant())
	}
	if takes, ok := valueWords[flag.Value.Type()]; ok {
		return usage("--%s takes %s, not %q", flag.Name, takes, e.GetValue()).hint("--%s %s", flag.Name, name)
	}
	var f *fault
	if errors.As(e, &f) {
		return usage("--%s: %s", flag.Name, f.what).because(f).hint("%s", listed(f.hints, "or"))
	}
	return usage("--%s cannot be %q: %v", flag.Name, e.GetValue(), e.Unwrap()).hint("--%s %s", flag.Name, name)
}

// underRoot is the path of a command without the program.
func underRoot(c *cobra.Command) string {
	return strings.TrimPrefix(c.CommandPath(), c.Root().Name()+" ")
}
