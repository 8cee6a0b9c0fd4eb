package hold

// A twist lies between two stitches. In a rotating carry the strands are left
// crossed: half a turn. In a parallel carry the working yarn is brought all the way round
// the carried one, so that their order is as before: one turn. Either is made in
// alternate senses, so that the turns do not add up.

var (
	halfTurn = Crossings{Before: []Sense{Under}}
	fullTurn = Crossings{Before: []Sense{Under, Under}}

	oneHand = []Hold{LeftOneFinger, LeftTwoFingers, RightTwoFingers, RightOneFinger}
)

const (
	twistSlow    = "Slow with both yarns in the hand: a weave leaves them there."
	twistAwkward = "Slow, and awkward with a yarn in each hand: a weave leaves them there."
)

// twists are the motions that catch a float just before a stitch.
var twists = []row{
	{
		holds: []Hold{OneAtATime}, carries: []Carry{Rotating}, sides: []Side{KnitSide}, method: Twist,
		steps: []string{
			"After a stitch drop the working yarn",
			"Reach under the carried yarn for it",
			"Go on with the working yarn",
		},
		short: "drop the working yarn, take it from under the carried yarn",
		other: []string{
			"After a stitch drop the working yarn",
			"Reach over the carried yarn for it",
			"Go on with the working yarn",
		},
		otherway: "drop the working yarn, take it from over the carried yarn",
		cross:    &halfTurn, attested: Wide,
	},
	{
		holds: []Hold{OneAtATime}, carries: []Carry{Rotating}, sides: []Side{PurlSide}, method: Twist,
		steps: []string{
			"Before the stitch lead the carried yarn leftward across the working yarn",
			"Purl on with the working yarn",
		},
		short: "carried yarn leftward across the working yarn",
		other: []string{
			"Before the stitch lead the carried yarn leftward beneath the working yarn",
			"Purl on with the working yarn",
		},
		otherway: "carried yarn leftward beneath the working yarn",
		cross:    &halfTurn, attested: Some,
	},
	{
		holds: []Hold{OneAtATime}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Twist,
		steps: roundKnit, short: roundShort, other: roundKnitOther, otherway: roundOtherShort,
		cross: &fullTurn, attested: Wide,
	},
	{
		holds: []Hold{OneAtATime}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Twist,
		steps: roundPurl, short: roundShort, other: roundPurlOther, otherway: roundOtherShort,
		cross: &fullTurn, attested: Derived,
	},
	{
		holds: []Hold{TwoHands}, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Twist,
		steps: roundKnit, short: roundShort, other: roundKnitOther, otherway: roundOtherShort,
		cross: &fullTurn, attested: Wide, note: twistAwkward,
	},
	{
		holds: []Hold{TwoHands}, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Twist,
		steps: roundPurl, short: roundShort, other: roundPurlOther, otherway: roundOtherShort,
		cross: &fullTurn, attested: Derived, note: twistAwkward,
	},
	{
		holds: oneHand, carries: []Carry{Parallel}, sides: []Side{KnitSide}, method: Twist,
		steps: roundKnit, short: roundShort, other: roundKnitOther, otherway: roundOtherShort,
		cross: &fullTurn, attested: Wide, note: twistSlow,
	},
	{
		holds: oneHand, carries: []Carry{Parallel}, sides: []Side{PurlSide}, method: Twist,
		steps: roundPurl, short: roundShort, other: roundPurlOther, otherway: roundOtherShort,
		cross: &fullTurn, attested: Derived, note: twistSlow,
	},
}

// Two crossings the same way that bring the working yarn out from under: over the
// carried yarn first, then back under it; the opposite sense the other way about.
var (
	roundKnit = []string{
		"Let both yarns go",
		"Lead the working yarn over the carried yarn",
		"Bring it back under the carried yarn, so that it has gone all the way round",
		"Take both yarns up in their usual order",
		"Knit on with the working yarn",
	}
	roundKnitOther = []string{
		"Let both yarns go",
		"Lead the working yarn under the carried yarn",
		"Bring it back over the carried yarn, so that it has gone all the way round",
		"Take both yarns up in their usual order",
		"Knit on with the working yarn",
	}
	roundPurl = []string{
		"Let both yarns go",
		"Lead the working yarn over the carried yarn",
		"Bring it back under the carried yarn, so that it has gone all the way round",
		"Take both yarns up in their usual order",
		"Purl on with the working yarn",
	}
	roundPurlOther = []string{
		"Let both yarns go",
		"Lead the working yarn under the carried yarn",
		"Bring it back over the carried yarn, so that it has gone all the way round",
		"Take both yarns up in their usual order",
		"Purl on with the working yarn",
	}
)

const (
	roundShort      = "working yarn all the way round the carried one: over, then under"
	roundOtherShort = "working yarn all the way round the carried one: under, then over"
)
