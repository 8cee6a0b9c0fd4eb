// Package cmd is the commands. A command is a constructor that returns App.Leaf(spec, run)
// and a run function that takes an options struct: run loads, asks the domain, commits and
// prints. The constructor stands as one line in the list in commands.go. Run functions
// print to App.Out and take pieces from, and put them into, the store by package stored.
package cmd
