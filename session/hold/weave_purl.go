package hold

// offerRight stands beside the left-hand holds on the purl side.
const offerRight = "Many purl such rows with the yarn in the right hand, or with one yarn at a time, instead."

// purlWeaves are the weaves with the wrong side facing; the floats lie in front of
// the knitter.
var purlWeaves = []row{
	{
		holds: []Hold{TwoHands}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{LeftHand},
		steps: []string{
			"Put the tip in purlwise",
			"Hold the left yarn up over the tip",
			"Wrap the right yarn as if to purl",
			"Draw it through without taking the left yarn",
			"Lower the left yarn and purl the next stitch: that closes the catch",
		},
		short: "left up over the tip, wrap right, draw the right through",
		cross: &weaveFromBelow, attested: Some,
	},
	{
		holds: []Hold{TwoHands}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{RightHand},
		steps: []string{
			"Put the tip in purlwise",
			"Wrap the right yarn as if to purl",
			"Wrap the left yarn as if to purl",
			"Unwrap the right yarn the way it came",
			"Draw the left yarn through",
			"Purl the next stitch with the right yarn in its usual place: that closes the catch",
		},
		short: "wrap right, wrap left, unwrap right, draw the left through",
		cross: &weaveFromAbove, attested: Some,
	},
	{
		holds: []Hold{LeftOneFinger}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{LowerStrand},
		steps: []string{
			"Put the tip in purlwise",
			"Dip the tip under the lower strand",
			"Pick the upper strand",
			"Draw it through",
			"Purl the next stitch as usual: that closes the catch",
		},
		short: "purlwise under the lower, pick the upper",
		cross: &weaveFromBelow, attested: Derived, note: offerRight,
	},
	{
		holds: []Hold{LeftOneFinger}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{UpperStrand},
		steps: []string{
			"Put the tip in purlwise",
			"Reach the tip over the upper strand",
			"Pick the lower strand",
			"Draw it through",
			"Purl the next stitch as usual: that closes the catch",
		},
		short: "purlwise over the upper, pick the lower",
		cross: &weaveFromAbove, attested: Derived, note: offerRight,
	},
	{
		holds: []Hold{LeftTwoFingers}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{LeftMiddle},
		steps: []string{
			"Put the tip in purlwise",
			"Reach the tip over the middle strand",
			"Pick the index strand",
			"Draw it through",
			"Purl the next stitch as usual: that closes the catch",
		},
		short: "purlwise over the middle strand, pick the index strand",
		cross: &weaveFromAbove, attested: Derived, note: offerRight,
	},
	{
		holds: []Hold{LeftTwoFingers}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{LeftIndex},
		steps: []string{
			"Put the tip in purlwise",
			"Dip the tip under the index strand",
			"Pick the middle strand",
			"Draw it through",
			"Purl the next stitch as usual: that closes the catch",
		},
		short: "purlwise under the index strand, pick the middle strand",
		cross: &weaveFromBelow, attested: Derived, note: offerRight,
	},
	{
		holds: []Hold{RightTwoFingers}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{RightMiddle},
		steps: []string{
			"Put the tip in purlwise",
			"Cross the middle strand over the index strand",
			"Wrap the index strand as if to purl",
			"Let the middle strand go back",
			"Draw the loop of the index strand through",
			"Purl the next stitch as usual: that closes the catch",
		},
		short: "middle over index, purl with index, middle back",
		cross: &weaveFromBelow, attested: Derived,
	},
	{
		holds: []Hold{RightTwoFingers}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{RightIndex},
		steps: []string{
			"Put the tip in purlwise",
			"Cross the index strand over the middle strand",
			"Wrap the middle strand as if to purl",
			"Let the index strand go back",
			"Draw the loop of the middle strand through",
			"Purl the next stitch as usual: that closes the catch",
		},
		short: "index over middle, purl with middle, index back",
		cross: &weaveFromBelow, attested: Derived,
	},
	{
		holds: []Hold{RightOneFinger}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{NearStrand},
		steps: []string{
			"Put the tip in purlwise",
			"Cross the near strand over the far strand",
			"Wrap the far strand as if to purl",
			"Let the near strand go back",
			"Draw the loop of the far strand through",
			"Purl the next stitch as usual: that closes the catch",
		},
		short: "near over far, purl with far, near back",
		cross: &weaveFromBelow, attested: Derived,
	},
	{
		holds: []Hold{RightOneFinger}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Weave,
		carried: []Place{FarStrand},
		steps: []string{
			"Put the tip in purlwise",
			"Cross the far strand over the near strand",
			"Wrap the near strand as if to purl",
			"Let the far strand go back",
			"Draw the loop of the near strand through",
			"Purl the next stitch as usual: that closes the catch",
		},
		short: "far over near, purl with near, far back",
		cross: &weaveFromBelow, attested: Derived,
	},
	{
		// Every place has the same motion here: the carried yarn goes over first.
		holds: []Hold{OneAtATime}, carries: []Carry{Parallel, Rotating}, sides: []Side{PurlSide}, method: Weave,
		steps: []string{
			"Lay the carried yarn over the working yarn",
			"Purl the stitch",
			"On the next stitch hold the carried yarn up, so that the working yarn goes under it: that closes the catch",
		},
		short: "carried yarn over, purl, hold it up on the next stitch",
		cross: &weaveFromBelow, attested: Wide,
	},
}
