package hold

import "strandwise/floats"

// Both yarns in the left hand: the tip fetches the working strand from under or over the
// carried one, whichever finger either lies on.

var leftOneFinger = holding{
	word: "left-one-finger", phrase: "both yarns over the left index finger",
	places: [2]Place{LowerStrand, UpperStrand}, sure: Differ, motions: fetched,
}

var leftTwoFingers = holding{
	word: "left-two-fingers", phrase: "a yarn over each of two fingers of the left hand",
	places: [2]Place{LeftIndex, LeftMiddle}, sure: Derived, motions: fetched,
}

const offerOthers = "Many purl with the right hand, or with one yarn at a time, instead."

var fetched = []motionRow{
	{
		side: KnitSide, method: floats.Weave, level: Below,
		steps: []Step{tipIn, dipUnder, pickIt, drawIt, nextAbove},
		short: "dip under CARRIED, pick WORKING", attested: Some, note: "A thumb may hold the carried strand down at the next stitch.",
	},
	{
		side: KnitSide, method: floats.Weave, level: Above,
		steps: []Step{tipIn, overBoth, comeUp, pickIt, drawIt, nextBelow},
		short: "over both, up between them from beneath WORKING, draw WORKING through", attested: Some,
	},
	{
		side: PurlSide, method: floats.Weave, level: Below,
		steps: []Step{tipInPurl, reachUnder, drawIt, nextAbove},
		short: "purlwise, reach under CARRIED for WORKING", attested: Derived, note: offerOthers,
	},
	{
		side: PurlSide, method: floats.Weave, level: Above,
		steps: []Step{tipInPurl, reachOver, drawIt, nextBelow},
		short: "purlwise, reach over CARRIED for WORKING", attested: Derived, note: offerOthers,
	},
	twistOfTwo(KnitSide, twistSlow), twistOfTwo(PurlSide, twistSlow),
}
