package hold

import "strandwise/floats"

// The sentences that hold for every motion. Source: common practice.
const (
	// Rule is what stands behind every weave.
	Rule = "A weave puts the carried strand on the other side of the working strand for one stitch. " +
		"Carried below, reach under it for the working yarn; carried above, reach over it."

	// Closing says when a weave is complete.
	Closing = "A weave is complete only when the next stitch is worked with the carried strand back in its usual place."

	// LoopInFront says what a loop of the carried yarn on the right side means.
	LoopInFront = "The carried yarn stays behind. A loop of it on the right side means it was drawn through: undo that stitch."

	// Flecks says what the caught yarn shows.
	Flecks = "Flecks of the carried yarn that show when the fabric is tugged are no mistake."

	// Slack says how to keep the carried yarn from pulling in.
	Slack = "Keep the carried yarn slack: spread the last stitches on the needle first."

	// Contrast is for yarns that stand far apart.
	Contrast = "With strong contrast a weave or a twist may show as a fleck: try both on a swatch, " +
		"keep the tension easy, and catch no oftener than needed."

	// FarOver is for floats far over the limit that come again and again.
	FarOver = "For floats far over the limit, again and again, a ladder of extra stitches at the back may serve better " +
		"than many catches; for a lone spot, duplicate stitch."

	// EasiestToLearn is for a beginner.
	EasiestToLearn = "The easiest catch to learn is the twist, with one yarn at a time."

	// KeepDominant says why dominance is kept.
	KeepDominant = "Keep the same yarn dominant through the piece, and across a pair."

	// CheckDominant says how to read dominance off the work after a break.
	CheckDominant = "Look at the wrong side below the needle: the floats of the dominant yarn lie lower."

	// ThirdYarn says where a third yarn goes.
	ThirdYarn = "A third yarn shares the hand or finger of the yarn used least there; " +
		"keep one fixed order from top to bottom."

	// ChangeShows is the warning when hold, method or dominance change in mid-piece.
	ChangeShows = "A change of hold, method or dominance in the middle of a piece can show: make it where a band ends."

	// MirrorHolds tells a mirror knitter how hold names are read.
	MirrorHolds = "You work from the right needle to the left, so hold names are read mirrored: " +
		"what left-two-fingers calls the left hand is your right hand."

	// RotatingSide says how a rotating carry is counted.
	RotatingSide = "In a rotating carry take the new yarn from under the yarn just used, at every change."
)

// Advice is a method to recommend and why.
type Advice struct {
	Method floats.Method
	Reason string
}

// Recommend tells which method goes best with the hold and carry. Common practice.
func Recommend(h Hold, c Carry) Advice {
	switch {
	case c == Rotating:
		return Advice{floats.Twist, "The strands turn at every change anyway, so a twist adds little."}
	case h == OneAtATime:
		return Advice{floats.Weave, "The strands never turn in a parallel carry, so a twist would be the only tangle."}
	case h == TwoHands:
		return Advice{floats.Weave, "With a yarn in each hand a weave leaves both where they are; a twist means letting go."}
	}
	return Advice{floats.Weave, "A weave leaves both yarns in the hand, and the strands never turn."}
}
