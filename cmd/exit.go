package cmd

import "fmt"

// exit is the status the process ends with.
type exit int

// The statuses, in the order of exits.
const (
	exitDone        exit = 0
	exitRefused     exit = 1
	exitUsage       exit = 2
	exitInput       exit = 3
	exitBusy        exit = 4
	exitUnusable    exit = 5
	exitDamaged     exit = 6
	exitUnknown     exit = 7
	exitUnprinted   exit = 8
	exitBug         exit = 70
	exitInterrupted exit = 130
)

// exits is the documented table: each status, its word in JSON, and its meaning.
var exits = []struct {
	exit    exit
	word    string
	meaning string
}{
	{exitDone, "done", "done, and on disk"},
	{exitRefused, "refused", "refused by the state of the piece"},
	{exitUsage, "usage", "wrong usage"},
	{exitInput, "input", "bad input file"},
	{exitBusy, "busy", "store busy"},
	{exitUnusable, "unusable", "store or output cannot be used (missing, permission, space)"},
	{exitDamaged, "damaged", "store damaged, foreign or newer"},
	{exitUnknown, "unknown", "outcome unknown"},
	{exitUnprinted, "unprinted", "saved, answer not printed"},
	{exitBug, "bug", "a fault of the program itself"},
	{exitInterrupted, "interrupted", "interrupted"},
}

// exitLines is the table for help and the manual.
func exitLines() []string {
	lines := make([]string, len(exits))
	for i, row := range exits {
		lines[i] = fmt.Sprintf("%d: %s", row.exit, row.meaning)
	}
	return lines
}

// word is the status as it stands in JSON.
func (e exit) word() string {
	for _, row := range exits {
		if row.exit == e {
			return row.word
		}
	}
	panic("exit status without a row in the table of exits")
}

// savedNothing reports whether a command that writes and ends with e promises
// that nothing was saved.
func (e exit) savedNothing() bool { return e >= exitRefused && e <= exitUnusable }
