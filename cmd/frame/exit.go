package frame

import "fmt"

// Exit is the status the process ends with.
type Exit int

// The statuses, in the order of exits.
const (
	ExitDone        Exit = 0
	ExitRefused     Exit = 1
	ExitUsage       Exit = 2
	ExitInput       Exit = 3
	ExitBusy        Exit = 4
	ExitUnusable    Exit = 5
	ExitDamaged     Exit = 6
	ExitUnknown     Exit = 7
	ExitUnprinted   Exit = 8
	ExitBug         Exit = 70
	ExitInterrupted Exit = 130
)

// exits is the documented table: each status, its word in JSON, and its meaning.
var exits = []struct {
	exit    Exit
	word    string
	meaning string
}{
	{ExitDone, "done", "done, and on disk"},
	{ExitRefused, "refused", "refused by the state of the piece"},
	{ExitUsage, "usage", "wrong usage"},
	{ExitInput, "input", "bad input file"},
	{ExitBusy, "busy", "store busy"},
	{ExitUnusable, "unusable", "store or output cannot be used (missing, permission, space)"},
	{ExitDamaged, "damaged", "store damaged, foreign or newer"},
	{ExitUnknown, "unknown", "outcome unknown"},
	{ExitUnprinted, "unprinted", "saved, answer not printed"},
	{ExitBug, "bug", "a fault of the program itself"},
	{ExitInterrupted, "interrupted", "interrupted"},
}

// ExitLines is the table for help and the manual.
func ExitLines() []string {
	lines := make([]string, len(exits))
	for i, row := range exits {
		lines[i] = fmt.Sprintf("%d: %s", row.exit, row.meaning)
	}
	return lines
}

// word is the status as it stands in JSON.
func (e Exit) word() string {
	for _, row := range exits {
		if row.exit == e {
			return row.word
		}
	}
	panic("exit status without a row in the table of exits")
}

// SavedNothing reports whether a command that writes and ends with e promises
// that nothing was saved.
func (e Exit) SavedNothing() bool { return e >= ExitRefused && e <= ExitUnusable }
