package hold

import "strandwise/floats"

// oneAtATime is one yarn in the hand, the other dropped. It alone can be carried either way.
var oneAtATime = holding{
	word: "one-at-a-time", phrase: "one yarn at a time, the other dropped",
	places: [2]Place{FromBelow, FromAbove}, sure: Wide, rotates: true,
	motions: []motionRow{
		led(KnitSide, Below, Some), led(KnitSide, Above, Derived), led(PurlSide, Below, Some), led(PurlSide, Above, Some),
		{
			side: KnitSide, method: floats.Twist,
			steps: []Step{hangLeft, rightBeneath, leftOver, goOn}, short: taughtShort,
			other: []Step{hangLeft, rightOver, leftBeneath, goOn}, attested: Wide,
		},
		{
			side: PurlSide, method: floats.Twist,
			steps: []Step{carriedOver, upRound, purlOn}, short: purlShort, attested: Some, note: "The same every time.",
		},
	},
}

// led is the weave in which the carried yarn is led across for one stitch and back.
func led(s Side, l Level, a Attested) motionRow {
	stitch, across, back, way := knitOne, leadBeneath, backBeneath, "beneath"
	if s == PurlSide {
		stitch = purlOne
	}
	if l == Above {
		across, back, way = leadOver, backOver, "over"
	}
	return motionRow{
		side: s, method: floats.Weave, level: l,
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
		side: s, method: floats.Twist,
		steps: []Step{letBothGo, rightBeneath, leftOver, takeBoth, goOn}, short: taughtShort,
		other:    []Step{letBothGo, rightOver, leftBeneath, takeBoth, goOn},
		attested: Some, note: note,
	}
	if s == PurlSide {
		r.steps, r.short = []Step{letBothGo, carriedOver, upRound, takeBoth, purlOn}, purlShort
		r.other = nil
	}
	return r
}
