package hold

// Attested tells how well something is established among those who teach it.
type Attested uint8

// The degrees.
const (
	Wide    Attested = iota // many teachers agree
	Some                    // one or two teach it
	Derived                 // worked out from the rule, not taken from a teacher
	Differ                  // teachers say different things
)

var attestedWords = [...]string{
	Wide: "widely taught", Some: "taught by some", Derived: "worked out from the rule", Differ: "teachers differ",
}

// String says the degree in plain words.
func (a Attested) String() string { return attestedWords[a] }

// Dominance tells which place is dominant: the strand that comes from below, whose
// stitches stand out.
type Dominance struct {
	Known  bool  // false: Place means nothing
	Place  Place // the place that is usually dominant
	Sure   Attested
	Advice string // what to do when it is not widely agreed on; empty otherwise
}

// LookAtSwatch is the advice where dominance is not widely agreed on.
const LookAtSwatch = "Look at a swatch: on the wrong side the floats of the dominant yarn lie lower, " +
	"on the right side its stitches stand out."

const rotatingAdvice = "In a rotating carry the strands change places at every change of yarn: neither is dominant all along."

// dominances is indexed by hold; all rows are for the parallel carry.
var dominances = [...]Dominance{
	TwoHands:        {Known: true, Place: LeftHand, Sure: Wide},
	LeftOneFinger:   {Known: true, Place: LowerStrand, Sure: Differ, Advice: LookAtSwatch},
	LeftTwoFingers:  {Known: true, Place: LeftIndex, Sure: Derived, Advice: LookAtSwatch},
	RightTwoFingers: {Sure: Differ, Advice: LookAtSwatch},
	RightOneFinger:  {Known: true, Place: FarStrand, Sure: Derived, Advice: LookAtSwatch},
	OneAtATime:      {Known: true, Place: FromBelow, Sure: Wide},
}

// Dominant tells which place of the hold is dominant and how sure that is. In a
// rotating carry none is. For a mirror knitter left and right are swapped; that her right
// hand is the dominant one of two is worked out, not taught.
func Dominant(h Hold, c Carry, mirror bool) Dominance {
	if c == Rotating {
		return Dominance{Sure: Derived, Advice: rotatingAdvice}
	}
	d := dominances[h]
	if mirror && h == TwoHands {
		d.Place, d.Sure, d.Advice = RightHand, Derived, LookAtSwatch
	}
	if mirror && d.Known && h != TwoHands {
		d.Place = d.Place.Mirror()
	}
	return d
}
