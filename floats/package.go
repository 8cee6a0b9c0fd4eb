// Package floats finds the floats of a piece and decides where to catch them.
//
// A yarn carried behind more stitches than the limit is to be caught. Which stitches are best is
// one question about the whole piece: each float prefers catches that divide it evenly, and
// catches of one row must keep clear of those in the next. The plan is the choice of sets, one
// for each float, with the least sum of what a set costs by itself and what two catches near each
// other cost (weights.go, rules.go). Floats that stand in every repeat are one choice.
//
// Sets are never listed: a float of 200 stitches has millions. By itself the best set
// of a float is a shortest path over its positions, in two layers, one for the fewest
// catches that can do and one for one more (shape.go, path.go). Only the couplings
// between floats make the question hard, and four steps answer it:
//
//   - A bound. Each coupling is shared out between its two catches as a price, so that
//     the piece falls apart into paths; prices are raised float by float, up the piece
//     and down, by exact min-marginals, as in sequential tree-reweighted message
//     passing (Kolmogorov, IEEE Transactions on Pattern Analysis and Machine
//     Intelligence 28, 2006, 1568-1583). Time is linear in the stitches (ascent.go).
//   - A plan. The prices are rounded to sets in both directions, then each float is solved
//     again against its neighbors until nothing changes (rounding.go).
//   - The proof. Messages are passed on whole sets, the cheapest few of each float and
//     one entry for all others, in the form of Kolmogorov (same journal, 37, 2015,
//     919-930); sets that cannot beat the plan in hand are ruled out, more are listed
//     where that may help, and what is left is eliminated variable by variable (Bertele
//     and Brioschi, Nonserial Dynamic Programming, 1972; labels.go, proof.go,
//     eliminate.go, work.go).
//
// A large piece is planned in bands of rows (plan.go). What is found is held against the rules by
// a checker that shares no code with all this (check.go, checkrow.go).
//
// All amounts are whole units, moved from one place to another, so that every bound is exact
// and "proven" is true as it stands. Effort is bounded in steps and in entries of tables, never
// in time, and nothing depends on the order of a map or on the number of cores: the same piece
// has the same plan on every run and machine.
//
// When a row was worked otherwise than planned, the floats of the next that would stack
// on it are chosen again by the same paths (adjust.go).
package floats
