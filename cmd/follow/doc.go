// Package follow is the sit-down mode as a machine without a terminal: a State takes
// keys, words and the outcomes of what it asked for, and gives the next State and
// Effects, which are plain data for someone else to carry out. Nothing here reads a
// clock, a terminal or a store.
//
// What it promises. Only a forward press on the row to work logs a row, and one
// press logs one row. A Log effect carries the number of the newest event the
// machine knows of, so whoever carries it out can refuse where another terminal
// was faster. What the screen says was logged is said only after Logged told so.
// A forward press within guard of a new row logs nothing and says so: a pedal
// pressed twice, or a key held down, is not a row.
package follow
