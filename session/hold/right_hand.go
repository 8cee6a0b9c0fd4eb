package hold

import "strandwise/floats"

// Both yarns in the right hand: the carried strand is laid across the tip, or wrapped and
// unwrapped, by its level.

var rightTwoFingers = holding{
	word: "right-two-fingers", phrase: "a yarn over each of two fingers of the right hand",
	places: [2]Place{RightIndex, RightMiddle}, sure: Differ, motions: thrown,
}

var rightOneFinger = holding{
	word: "right-one-finger", phrase: "both yarns over the right index finger",
	places: [2]Place{FarStrand, NearStrand}, sure: Differ, motions: thrown,
}

var thrown = []motionRow{
	{
		side: KnitSide, method: floats.Weave, level: Below,
		steps: []Step{tipIn, layAcross, wrapNearer, layBack, drawLoop, closing},
		short: "CARRIED across the tip, wrap WORKING, CARRIED back, draw WORKING through", attested: Some,
		note: "Both may travel round together: letting the carried one back takes its wrap off again.",
	},
	{
		side: KnitSide, method: floats.Weave, level: Above,
		steps: []Step{tipIn, wrapFirst, wrapKnit, unwrap, drawLoop, closing},
		short: "wrap CARRIED, wrap WORKING, unwrap CARRIED, draw WORKING through", attested: Some,
		note: "The least easy of all.",
	},
	{
		side: PurlSide, method: floats.Weave, level: Below,
		steps: []Step{tipInPurl, holdUp, wrapPurl, drawLoop, lowerIt, closing},
		short: "CARRIED over the tip, purl with WORKING, CARRIED back", attested: Derived,
	},
	{
		side: PurlSide, method: floats.Weave, level: Above,
		steps: []Step{tipInPurl, holdDown, purlNearer, drawLoop, letUp, closing},
		short: "CARRIED down under the tip, purl with WORKING, CARRIED up", attested: Derived,
	},
	twistOfTwo(KnitSide, twistSlow), twistOfTwo(PurlSide, twistSlow),
}
