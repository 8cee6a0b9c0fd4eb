package cmd

import "github.com/spf13/cobra"

// quick are the commands of every row. When one of them comes first on the command
// line, only it is made and not the whole tree, which would take a tenth of the time
// a step takes. They have no parts, so no suggestion needs the rest of the tree.
var quick = map[string]func(*app) *cobra.Command{
	"show":   newShow,
	"knit":   newKnit,
	"rip":    newRip,
	"undo":   newUndo,
	"redo":   newRedo,
	"pause":  newPause,
	"note":   newNote,
	"resume": newResume,
}

// isQuick reports whether one of the quick commands is asked for.
func (a *app) isQuick() bool {
	return len(a.env.Args) > 0 && quick[a.env.Args[0]] != nil
}

// adoptQuick puts the one command that is asked for below the root, and reports
// whether it is one of the quick.
func (a *app) adoptQuick(root *cobra.Command) bool {
	if !a.isQuick() {
		return false
	}
	adopt(root, quick[a.env.Args[0]](a))
	return true
}
