// Package frame is one run of the program, without any command of it. In comes a Program,
// which is the tables of package cmd, and an Env, which is all that a run takes from the
// world; out come the answer, what is said beside it, and an exit status.
//
// An App is the run. It parses the command line, settles the settings (flag, variable,
// stored, default), runs the command and turns its error into one line, hints and a
// status. The answer is held back until the command has succeeded, and whatever changes
// the store goes through App.Commit, so that an interruption, a crash or a full disk can
// say truthfully whether anything was saved.
//
// To be read in this order: command.go and env.go (what comes in), errors.go (what may go wrong),
// output.go, tell.go and files.go (what goes out and in), setting.go, help.go and typo.go
// (the command line), app.go and run.go.
package frame
