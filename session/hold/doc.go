// Package hold knows how two yarns are held and how a float is caught with each
// hold: the places a yarn can sit in, which of them stands out, the hand motion of
// every catch, and the crossings each motion leaves between the two strands. It
// also keeps count of those crossings, since two of them are one turn of the yarns
// about each other.
//
// Motions are tables, written for a knitter who works from the left needle to the
// right. A mirror knitter works the other way; for her left and right are swapped in
// every place and sentence, and nothing else is.
//
// # What a crossing is
//
// Two strands run from the work to two balls. The yarn of the last stitch is the
// leftmost of them; another yarn that is to be worked must pass it. It can pass between
// that strand and the fabric (it is taken from under) or outside it (it is
// taken from over). Each passing is half a turn of one strand about the other, and the
// two kinds are opposite halves. A crossing is therefore written as a Sense: Under
// (+1) when the yarn worked next comes from under the other, Over (-1) when it comes
// from over it.
//
// A weave crosses before the caught stitch and crosses back after it: nothing is left
// in the strands, and the stitch between the two crossings holds the carried yarn. A
// twist lies between two stitches: one crossing in a rotating carry, two the same way
// in a parallel carry, where the strands must come back to their order. Crossings in
// one gap that undo each other, with no stitch between them, hold nothing: a motion
// made only of such is refused.
//
// The motions are common practice without a single source; how widely each is taught
// stands beside it. What was worked out from the rule alone is marked Derived.
package hold
