// Package hold knows how two yarns are held and how a float is caught with each
// hold: the places a yarn can sit in, which of them stands out, the hand motion of
// every catch, and the crossings each motion leaves between the two strands. It
// also keeps count of those crossings, since two of them are one turn of the yarns
// about each other. All of a hold is in one file.
//
// Motions are tables, written for a knitter who works from the left needle to the
// right. A mirror knitter works the other way; for her left and right are swapped in
// every place and sentence, and nothing else is.
//
// Every motion is data twice over: the words of its steps, and with each step how it leads
// one strand past the other (step.go). From these follow whether the catch holds, by how
// many legs, and how many crossings it leaves; a motion that traps nothing, or holds by one
// leg only where it should by two, fails a test.
//
// The motions are common practice without a single source; how widely each is taught
// stands beside it. What was worked out from the rule alone is marked Derived.
package hold
