package frame

import (
	"io/fs"

	"github.com/spf13/cobra"
)

// Program is what there is to run. It is handed in, so that what runs it knows no command.
type Program struct {
	Root   Spec // without a command
	Groups []Group
	Texts  string     // of each command, as explain reads them
	Shell  string     // id of the group that help and completion stand in
	Bare   func(*App) // tells what the program is, when no command is given

	Examples fs.FS // the charts that are named example:NAME

	AboutPiece []string // the commands, without the program, that --piece has a meaning for

	JSONHelp func(command string) string // tells of the JSON of a command, or of all for ""; "" where there is none

	Values map[string]Completer              // complete the values of flags by name, where they are not a few fixed words
	Before func(arguments []string) []string // mends the command line before it is parsed

	// What is known of slips: hints by command, for too few words; by command and flag, for
	// a flag there is under another name; and for words too many, nil where nobody knows.
	TooFew  map[string][]string
	NoFlag  map[string]string
	TooMany func(c *cobra.Command, words []string) []string

	// Renamed gives the new names of commands and flags by the old ones: "pieces switch", "show --why".
	// Those are understood for one release, with a word on stderr.
	Renamed map[string]string
}

// Group gathers commands by what the knitter is about.
type Group struct {
	ID       string
	Title    string
	Commands []func(*App) *cobra.Command // most used first
}

// Completer lists the values of a flag, or of the next argument, given those so far.
type Completer func(a *App, args []string) []string
