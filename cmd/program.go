package cmd

import (
	"context"

	"github.com/spf13/cobra"
)

// program is what there is to run. It is handed in, so that what runs it knows no command.
type program struct {
	root   spec // without a command
	groups []group
	shell  string     // id of the group that help and completion stand in
	bare   func(*app) // tells what the program is, when no command is given

	values map[string]completer            // complete the values of flags by name, where they are not a few fixed words
	before func(arguments []string) []string // mends the command line before it is parsed; nil leaves it

	// What is known of slips: hints by command, for too few words; by command and flag, for
	// a flag there is under another name; and for words too many, nil where nobody knows.
	tooFew  map[string][]string
	noFlag  map[string]string
	tooMany func(c *cobra.Command, words []string) []string
}

// group gathers commands by what the knitter is about.
type group struct {
	id       string
	title    string
	commands []func(*app) *cobra.Command // most used first
}

// completer lists the values of a flag, or what the next argument may be, given the arguments
// so far.
type completer func(a *app, ctx context.Context, args []string) []string
