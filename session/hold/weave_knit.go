package hold

// The rule behind every weave: one strand always comes from below, the other from
// above, and a weave puts the carried strand on the other side of the working strand for
// exactly one stitch. Carried below, the working yarn is reached from under it; carried
// above, from over it. The catch is complete only when the next stitch is worked with
// the carried strand back in its usual place, so each motion ends with that.
//
// Source of all tables: common practice, no single source; attested as marked.

var (
	weaveFromBelow = Crossings{Before: []Sense{Under}, After: []Sense{Over}}
	weaveFromAbove = Crossings{Before: []Sense{Over}, After: []Sense{Under}}
)

// knitWeaves are the weaves with the right side facing.
var knitWeaves = []row{
	{
		holds: []Hold{TwoHands}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{LeftHand},
		steps: []string{
			"Put the tip into the stitch",
			"Lay the left yarn over the tip, the opposite way to a knit wrap",
			"Wrap the right yarn as if to knit",
			"Let the left yarn back, so that it lies across the right yarn",
			"Draw the loop of the right yarn through",
			"Lower the left yarn and work the next stitch: that closes the catch",
		},
		short: "left over the tip, wrap right, left back, draw the right through",
		cross: &weaveFromBelow, attested: Wide,
	},
	{
		holds: []Hold{TwoHands}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{RightHand},
		steps: []string{
			"Put the tip into the stitch",
			"Wrap the right yarn as if to knit",
			"Pick the left yarn",
			"Unwrap the right yarn the way it came",
			"Draw only the left yarn through",
			"Work the next stitch with the right yarn in its usual place: that closes the catch",
		},
		short: "wrap right, pick left, unwrap right, draw the left through",
		cross: &weaveFromAbove, attested: Wide,
	},
	{
		holds: []Hold{LeftOneFinger}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{LowerStrand},
		steps: []string{
			"Put the tip into the stitch",
			"Dip the tip under the lower strand",
			"Pick the upper strand",
			"Draw it through",
			"Take the next stitch as usual: that closes the catch; a thumb may hold the lower strand down",
		},
		short: "dip under the lower, pick the upper",
		cross: &weaveFromBelow, attested: Some,
	},
	{
		holds: []Hold{LeftOneFinger}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{UpperStrand},
		steps: []string{
			"Put the tip into the stitch",
			"Pass the tip over both strands",
			"Come back between them: the lower strand lies on the tip, the upper across it",
			"Draw the lower strand through",
			"Take the next stitch as usual: that closes the catch",
		},
		short: "over both, back between them, draw the lower through",
		cross: &weaveFromAbove, attested: Some,
	},
	{
		holds: []Hold{LeftTwoFingers}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{LeftMiddle},
		steps: []string{
			"Put the tip into the stitch",
			"Reach the tip round both strands",
			"Bring it back between them",
			"Pick the index strand",
			"Draw it through",
			"Take the next stitch as usual: that closes the catch",
		},
		short: "round both, back between them, pick the index strand",
		cross: &weaveFromAbove, attested: Some,
	},
	{
		holds: []Hold{LeftTwoFingers}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{LeftIndex},
		steps: []string{
			"Put the tip into the stitch",
			"Dip the tip under the index strand",
			"Pick the middle strand",
			"Draw it through",
			"Take the next stitch from above the index strand: that closes the catch",
		},
		short: "dip under the index strand, pick the middle strand",
		cross: &weaveFromBelow, attested: Some,
	},
	{
		holds: []Hold{RightTwoFingers}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{RightMiddle},
		steps: []string{
			"Put the tip into the stitch",
			"Bring the middle strand over the tip, the opposite way to a knit wrap",
			"Wrap the index strand as if to knit",
			"Let the middle strand back",
			"Draw the loop of the index strand through",
			"Work the next stitch with the middle strand in its usual place: that closes the catch",
		},
		short: "middle over the tip, wrap index, middle back, draw the index through",
		cross: &weaveFromBelow, attested: Some,
		note: "Both strands may travel round the tip together: that takes the wrap of the middle strand off again.",
	},
	{
		holds: []Hold{RightTwoFingers}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{RightIndex},
		steps: []string{
			"Put the tip into the stitch",
			"Wrap the index strand as if to knit",
			"Wrap the middle strand as if to knit",
			"Unwrap the index strand the way it came",
			"Draw the loop of the middle strand through",
			"Work the next stitch with the index strand in its usual place: that closes the catch",
		},
		short: "wrap index, wrap middle, unwrap index, draw the middle through",
		cross: &weaveFromAbove, attested: Some,
		note: "This is the least easy catch of all: go slowly.",
	},
	{
		holds: []Hold{RightOneFinger}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{NearStrand},
		steps: []string{
			"Put the tip into the stitch",
			"Tell the strands apart at the fingertip",
			"Bring the near strand over the tip, the opposite way to a knit wrap",
			"Wrap the far strand as if to knit",
			"Let the near strand back",
			"Draw the loop of the far strand through",
			"Work the next stitch with the near strand in its usual place: that closes the catch",
		},
		short: "near over the tip, wrap far, near back, draw the far through",
		cross: &weaveFromBelow, attested: Derived,
		note: "Both strands may travel round the tip together: that takes the wrap of the near strand off again.",
	},
	{
		holds: []Hold{RightOneFinger}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{FarStrand},
		steps: []string{
			"Put the tip into the stitch",
			"Tell the strands apart at the fingertip",
			"Wrap the far strand as if to knit",
			"Wrap the near strand as if to knit",
			"Unwrap the far strand the way it came",
			"Draw the loop of the near strand through",
			"Work the next stitch with the far strand in its usual place: that closes the catch",
		},
		short: "wrap far, wrap near, unwrap far, draw the near through",
		cross: &weaveFromAbove, attested: Derived,
	},
	{
		holds: []Hold{OneAtATime}, carries: []Carry{Parallel, Rotating}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{FromBelow, SameSide},
		steps:   weaveOneKnit, short: weaveOneKnitShort,
		cross: &weaveFromBelow, attested: Some,
	},
	{
		holds: []Hold{OneAtATime}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Weave,
		carried: []Place{FromAbove},
		steps:   weaveOneKnit, short: weaveOneKnitShort,
		cross: &weaveFromAbove, attested: Some,
	},
}

// Either place has the same steps with one yarn at a time; only the sense differs.
var weaveOneKnit = []string{
	"Lay the carried yarn across the working yarn",
	"Knit the stitch",
	"Take the carried yarn back across the working yarn, the other way",
	"Work the next stitch: that closes the catch",
}

const weaveOneKnitShort = "carried yarn across, knit, carried yarn back across"
