package hold

import "strings"

// A motion is told in steps, and each step says which strand it leads past the other, so
// that words and strands cannot part. Seen from the knitter, a strand goes forward when it
// is lifted (or led to the right) and back when it is lowered (or led to the left). Between
// two stitches the working strand makes a loop with the fabric; only a pass on the outside
// of the other strand, the hands' side (or beneath it, for strands led to the sides), takes
// the loop round it. A carried strand that passes inside the working one is passed by it on
// the outside, so who moves does not matter.
//
// How often a loop goes round the carried strand is the sum of its outside passes, forward
// +1 and back -1 (geometry: the winding number of a closed curve about a point, as any
// textbook of topology defines it). A weave has two loops, one before its stitch and one
// after it, round the strand once each in opposite senses; a twist has one loop, round it
// once.

// Pass is one strand led past the other.
type Pass struct {
	Carried bool // the carried strand moves; else the working one
	Forward bool // up, or to the right; else down, or to the left
	Outside bool // on the hands' side of the other, or beneath it; else inside, or over it
}

// round is how often the pass takes the working strand round the carried one.
func (p Pass) round() int {
	if p.Outside == p.Carried { // the working strand passes inside
		return 0
	}
	return p.along()
}

// along is the step of the working strand past the carried one: 1 forward, -1 back.
func (p Pass) along() int {
	if p.Forward != p.Carried {
		return 1
	}
	return -1
}

// Step is one act of a motion. The words name the strands by CARRIED and WORKING.
type Step struct {
	Words  string
	Passes []Pass
	Stitch bool // with this act the stitch is made: what comes after lies behind it
	Tip    Tip  // what the right tip does after the strands are led
}

// Tip is what the tip that takes stitches up does in a step.
type Tip uint8

// What the tip does.
const (
	Rests   Tip = iota
	Enters      // goes into the stitch
	Draws       // draws the loop through, and the stitch is let go
	Works       // works the stitch whole
	GoesOn      // works the next stitch
	Reaches     // goes over both strands to their far side
)

func named(words, carried, working string) string {
	return strings.NewReplacer("CARRIED", carried, "WORKING", working).Replace(words)
}

func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// Legs counts how often the working strand goes round the carried one, before the stitch
// and after it, and how far it ends from where it began: 0 when it is back.
func Legs(steps []Step) (before, after, away int) {
	leg := &before
	for _, s := range steps {
		for _, p := range s.Passes {
			*leg += p.round()
			away += p.along()
		}
		if s.Stitch {
			leg = &after
		}
	}
	return before, after, away
}

// What the acts of the holds have in common. One that leads no strand past the other has no pass.
var (
	tipIn      = Step{Words: "put the tip into the stitch", Tip: Enters}
	tipInPurl  = Step{Words: "put the tip in purlwise", Tip: Enters}
	drawIt     = Step{Words: "draw it through", Tip: Draws}
	drawLoop   = Step{Words: "draw the loop of WORKING through", Tip: Draws}
	drawOnly   = Step{Words: "draw only WORKING through, CARRIED stays out", Tip: Draws}
	letBothGo  = Step{Words: "let both yarns go"}
	takeBoth   = Step{Words: "take both yarns up in their usual order"}
	goOn       = Step{Words: "go on with WORKING", Tip: GoesOn}
	purlOn     = Step{Words: "purl on with WORKING", Tip: GoesOn}
	pickIt     = Step{Words: "pick WORKING", Stitch: true}
	knitOne    = Step{Words: "work one stitch with WORKING", Stitch: true, Tip: Works}
	purlOne    = Step{Words: "purl one stitch with WORKING", Stitch: true, Tip: Works}
	wrapKnit   = Step{Words: "wrap WORKING as if to knit", Stitch: true}
	wrapNearer = Step{Words: "wrap WORKING as if to knit, nearer the point", Stitch: true}
	wrapPurl   = Step{Words: "wrap WORKING as if to purl", Stitch: true}
	purlNearer = Step{Words: "wrap WORKING as if to purl, nearer the point", Stitch: true}

	// The tip fetches the working strand from under or over the carried one; the next
	// stitch, taken as usual, leads it back.
	dipUnder = Step{Words: "dip the tip under CARRIED", Passes: []Pass{{Outside: true}}}
	overBoth = Step{Words: "pass the tip over both strands to the far side", Tip: Reaches}
	comeUp   = Step{
		Words:  "come up between them from beneath WORKING, so that WORKING lies on the tip and the tip over CARRIED",
		Passes: []Pass{{Forward: true, Outside: true}},
	}
	reachUnder = Step{Words: "reach under CARRIED for WORKING", Passes: []Pass{{Outside: true}}, Stitch: true}
	reachOver  = Step{Words: "reach over CARRIED for WORKING", Passes: []Pass{{Forward: true, Outside: true}}, Stitch: true}
	nextAbove  = Step{Words: "work the next stitch as usual, with WORKING from above again: that closes the catch", Passes: []Pass{{Forward: true, Outside: true}}, Tip: GoesOn}
	nextBelow  = Step{Words: "work the next stitch as usual, with WORKING from below again: that closes the catch", Passes: []Pass{{Outside: true}}, Tip: GoesOn}

	// The carried strand is moved for one stitch and let back.
	layAcross = Step{Words: "lay CARRIED across the top of the tip, not under it first", Passes: []Pass{{Carried: true, Forward: true}}}
	layBack   = Step{Words: "let CARRIED back, so that it lies across WORKING", Passes: []Pass{{Carried: true}}}
	holdUp    = Step{Words: "hold CARRIED up over the tip", Passes: []Pass{{Carried: true, Forward: true}}}
	lowerIt   = Step{Words: "lower CARRIED again", Passes: []Pass{{Carried: true}}}
	holdDown  = Step{Words: "hold CARRIED down under the tip", Passes: []Pass{{Carried: true}}}
	letUp     = Step{Words: "let CARRIED up again", Passes: []Pass{{Carried: true, Forward: true}}}
	wrapFirst = Step{Words: "wrap CARRIED as if to knit", Passes: []Pass{{Carried: true}}}
	unwrap    = Step{Words: "unwrap CARRIED the way it came", Passes: []Pass{{Carried: true, Forward: true}}}
	closing   = Step{Words: "work the next stitch with CARRIED in its usual place: that closes the catch", Tip: GoesOn}

	// One yarn at a time: the carried yarn is led across and back.
	leadBeneath = Step{Words: "lead CARRIED to the left beneath WORKING and hold it above the tip", Passes: []Pass{{Carried: true, Forward: true}}}
	backBeneath = Step{Words: "lead CARRIED back to the right beneath WORKING", Passes: []Pass{{Carried: true}}}
	leadOver    = Step{Words: "lead CARRIED to the left over WORKING and hold it below the tip", Passes: []Pass{{Carried: true}}}
	backOver    = Step{Words: "lead CARRIED back to the right over WORKING", Passes: []Pass{{Carried: true, Forward: true}}}
	goOnCloses  = Step{Words: "go on as usual: the next stitch closes the catch", Tip: GoesOn}

	// Twists: once right round the carried strand, between two stitches.
	hangLeft     = Step{Words: "after a stitch let WORKING hang to the left of CARRIED"}
	rightBeneath = Step{Words: "draw WORKING to the right beneath CARRIED", Passes: []Pass{{Forward: true, Outside: true}}}
	leftOver     = Step{Words: "bring WORKING back to the left over CARRIED", Passes: []Pass{{}}}
	rightOver    = Step{Words: "draw WORKING to the right over CARRIED", Passes: []Pass{{Forward: true}}}
	leftBeneath  = Step{Words: "bring WORKING back to the left beneath CARRIED", Passes: []Pass{{Outside: true}}}
	carriedOver  = Step{Words: "lead CARRIED leftward across the top of WORKING", Passes: []Pass{{Carried: true}}}
	upRound      = Step{Words: "bring WORKING up round CARRIED to where it was", Passes: []Pass{{}}}
)
