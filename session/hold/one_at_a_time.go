package hold

import "strandwise/floats"

// oneAtATime is one yarn in the hand, the other dropped. It alone can be carried either way.
var oneAtATime = holding{
	word: "one-at-a-time", phrase: "one yarn at a time, the other dropped",
	places: [2]Place{FromBelow, FromAbove}, sure: Wide, rotates: true,
	motions: []motionRow{
		led(Parallel, KnitSide, Below, Some), led(Parallel, KnitSide, Above, Derived),
		led(Parallel, PurlSide, Below, Some), led(Parallel, PurlSide, Above, Some),
		led(Rotating, KnitSide, Below, Some), led(Rotating, PurlSide, Below, Some),
		{
			carry: Parallel, side: KnitSide, method: floats.Twist, levels: []Level{Below, Above},
			steps: []Step{hangLeft, rightBeneath, leftOver, goOn}, short: taughtShort,
			other: []Step{hangLeft, rightOver, leftBeneath, goOn}, otherway: otherShort, attested: Wide,
		},
		{
			carry: Parallel, side: PurlSide, method: floats.Twist, levels: []Level{Below, Above},
			steps: []Step{carriedOver, upRound, purlOn}, short: purlShort, attested: Some, note: sameEachTime,
		},
		{
			carry: Rotating, side: KnitSide, method: floats.Twist, levels: []Level{Below},
			steps: []Step{hangLeft, rightBeneath, leftOver, goOn}, short: taughtShort, attested: Wide,
		},
		{
			carry: Rotating, side: PurlSide, method: floats.Twist, levels: []Level{Below},
			steps: []Step{carriedOver, upRound, purlOn}, short: purlShort, attested: Some, note: sameEachTime,
		},
	},
}

const sameEachTime = "The same every time."

// led is the weave in which the carried yarn is led across for one stitch and back.
func led(c Carry, s Side, l Level, a Attested) motionRow {
	stitch, across, back, way := knitOne, leadBeneath, backBeneath, "beneath"
	if s == PurlSide {
		stitch = purlOne
	}
	if l == Above {
		across, back, way = leadOver, backOver, "over"
	}
	return motionRow{
		carry: c, side: s, method: floats.Weave, levels: []Level{l},
		steps: []Step{across, stitch, back, goOnCloses},
		short: "CARRIED left " + way + " WORKING, one stitch, back the same way", attested: a,
	}
}

// What the twists of all holds have in common.
const (
	taughtShort = "WORKING right beneath CARRIED, back left over it"
	otherShort  = "WORKING right over CARRIED, back left beneath it"
	purlShort   = "CARRIED leftward across WORKING, bring WORKING up round it"

	twistSlow    = "Slow with both yarns in the hand: a weave leaves them there."
	twistAwkward = "Slow, and awkward with a yarn in each hand: a weave leaves them there."
)

// twistOfTwo is the twist of a hold that keeps both yarns in the hand: they are let go for it.
func twistOfTwo(s Side, note string) motionRow {
	r := motionRow{
		side: s, method: floats.Twist, levels: []Level{Below, Above},
		steps: []Step{letBothGo, rightBeneath, leftOver, takeBoth, goOn}, short: taughtShort,
		other: []Step{letBothGo, rightOver, leftBeneath, takeBoth, goOn}, otherway: otherShort,
		attested: Some, note: note,
	}
	if s == PurlSide {
		r.steps, r.short = []Step{letBothGo, carriedOver, upRound, takeBoth, purlOn}, purlShort
		r.other, r.otherway = nil, ""
	}
	return r
}
