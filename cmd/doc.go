// Package cmd is the commands. A command is a constructor that returns App.Leaf(spec, run)
// and a run function, mostly a method of its options: it loads, asks the domain, commits and
// prints. The constructor stands as one line in the list in commands.go, its texts in help.md.
// Run functions print to App.Out and take pieces from, and put them into, the store by
// package stored.
package cmd
