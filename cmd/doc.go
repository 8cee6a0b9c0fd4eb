// Package cmd is the command line. It joins the domain packages and the store,
// prints what they answer, and turns every error into one line, hints and an exit
// status. Nothing below it prints, logs or exits.
//
// A command is a constructor that returns app.leaf(spec, run) and a run function
// that takes an options struct: run loads, asks the domain, commits and prints.
// The constructor stands as one line in the list in commands.go. Run functions
// print to app.out, which is held back until the command has succeeded, and
// wrap whatever changes the store in app.commit, so that an interruption, a
// crash or a full disk can say truthfully whether anything was saved.
package cmd
