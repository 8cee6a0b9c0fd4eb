// Package stored takes pieces from the store of a run and puts them back: a Piece is a
// session.Piece with its number there. In come the run (frame.App) and what a command
// decided; out come pieces, folded, laid out and planned, or events in the store.
//
// Take reads the current piece; Change logs events on it, folded, decided and appended
// in one transaction; CastOn begins one. Plans are made outside every transaction and
// kept in the cache of the store. The rest looks at all pieces: names and the list of
// them, what makes a pair, the check of every log (Check), of an export (Examine), and
// what a salvage left (Rejoin).
package stored
