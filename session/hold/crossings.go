package hold

import "errors"

// Sense is one crossing of two strands: half a turn of one about the other.
type Sense int8

// The senses.
const (
	Under Sense = 1  // the yarn worked next is taken from under the other
	Over  Sense = -1 // it is taken from over the other
)

// String is "under" or "over".
func (s Sense) String() string {
	if s == Over {
		return "over"
	}
	return "under"
}

// Crossings are what a motion does to the carried and the working strand, in the order
// it is done: before the caught stitch and after it.
type Crossings struct {
	Before, After []Sense
}

// Net is the sum of all crossings: what is left in the strands between the work and
// the balls. Two make a turn.
func (c Crossings) Net() int {
	net := 0
	for _, gap := range [...][]Sense{c.Before, c.After} {
		for _, s := range gap {
			net += int(s)
		}
	}
	return net
}

// Count is the number of crossings.
func (c Crossings) Count() int { return len(c.Before) + len(c.After) }

// Reverse is the same motion in the opposite sense.
func (c Crossings) Reverse() Crossings {
	return Crossings{reverse(c.Before), reverse(c.After)}
}

func reverse(gap []Sense) []Sense {
	if gap == nil {
		return nil
	}
	turned := make([]Sense, len(gap))
	for i, s := range gap {
		turned[i] = -s
	}
	return turned
}

// Traps reports whether the crossings hold the carried strand. Neighbouring crossings
// of opposite sense with no stitch between them undo each other, as a strand
// that is lifted over another and put back; what is left in either gap holds.
func (c Crossings) Traps() bool { return len(reduce(c.Before))+len(reduce(c.After)) > 0 }

func reduce(gap []Sense) []Sense {
	var left []Sense
	for _, s := range gap {
		if n := len(left); n > 0 && left[n-1] == -s {
			left = left[:n-1]
			continue
		}
		left = append(left, s)
	}
	return left
}

// How a crossing looks on the wrong side follows from its sense and from what stands
// between it and the one before. In one gap the strands have changed places
// after a crossing, so a second one the same way shows the other strand on top. Across
// the caught stitch it is the other way about: there the working strand has dived into
// the fabric in between, so crossing back shows the carried strand on the other side
// of it.

// overs tells, per crossing of each gap, whether the carried strand passes over the
// working strand as seen on the wrong side. Which of the two looks comes first depends on
// how the strand was lifted; only whether they differ is used, so the first counts as
// over.
func (c Crossings) overs() (before, after []bool) {
	over, last := true, Sense(0)
	for i, s := range c.Before {
		if i > 0 {
			over = over != (s == last)
		}
		before, last = append(before, over), s
	}
	for i, s := range c.After {
		switch {
		case i > 0:
			over = over != (s == last)
		case len(c.Before) > 0:
			over = over != (s != last)
		}
		after, last = append(after, over), s
	}
	return before, after
}

// The sentences of WrongSide.
const (
	lookWoven = "On the wrong side the carried strand passes over the working strand on one side of the caught stitch and under it on the other."
	lookHalf  = "On the wrong side the two strands cross once, just before the stitch, and do not cross back there."
	lookTurn  = "On the wrong side the working strand goes all the way round the carried one just before the stitch: over it once and under it once."
	lookLoose = "On the wrong side the carried strand lies loose at the stitch: it is not caught."
	lookOther = "On the wrong side the carried strand crosses the working strand beside the stitch and is held there."
)

// WrongSide says how a catch with these crossings looks on the wrong side, for the
// knitter to check one.
func (c Crossings) WrongSide() string {
	before, after := c.overs()
	switch {
	case !c.Traps():
		return lookLoose
	case len(before) == 1 && len(after) == 1 && before[0] != after[0]:
		return lookWoven
	case c.Count() == 1:
		return lookHalf
	case len(before) == 2 && len(after) == 0 && before[0] != before[1]:
		return lookTurn
	}
	return lookOther
}

// Errors of Motion.Validate.
var (
	ErrTrapsNothing = errors.New("the strands never cross, or cross back at once: the motion traps nothing")
	ErrWeaveTurns   = errors.New("a weave must cross once before the stitch and back once after it")
	ErrTwistCount   = errors.New("a twist must cross once in a rotating carry, twice the same way in a parallel one, all before the stitch")
	ErrOrderLost    = errors.New("a motion of the parallel carry must cross an even number of times, or the strands lose their order")
	ErrNoSteps      = errors.New("a motion needs its steps, its short form and, where it is a twist, both senses")
)
