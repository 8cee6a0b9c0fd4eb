package hold

import "strandwise/floats"

var twoHands = holding{
	word: "two-hands", phrase: "a yarn in each hand",
	places: [2]Place{LeftHand, RightHand}, sure: Wide,
	motions: []motionRow{
		{
			side: KnitSide, method: floats.Weave, level: Below,
			steps: []Step{tipIn, layAcross, wrapNearer, layBack, drawLoop, closing},
			short: "CARRIED across the tip, wrap WORKING, CARRIED back, draw WORKING through", attested: Wide,
		},
		{
			side: KnitSide, method: floats.Weave, level: Above,
			steps: []Step{tipIn, wrapFirst, pickIt, unwrap, drawOnly, closing},
			short: "wrap CARRIED, pick WORKING, unwrap CARRIED, draw WORKING through", attested: Wide,
		},
		{
			side: PurlSide, method: floats.Weave, level: Below,
			steps: []Step{tipInPurl, holdUp, wrapPurl, drawOnly, lowerIt, closing},
			short: "CARRIED up over the tip, purl with WORKING, CARRIED down", attested: Some,
		},
		{
			side: PurlSide, method: floats.Weave, level: Above,
			steps: []Step{tipInPurl, holdDown, purlNearer, drawLoop, letUp, closing},
			short: "CARRIED down under the tip, purl with WORKING, CARRIED up", attested: Derived,
		},
		twistOfTwo(KnitSide, twistAwkward), twistOfTwo(PurlSide, twistAwkward),
	},
}
