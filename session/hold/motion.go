package hold

// Motion is the hand motion of one catch.
type Motion struct {
	Hold    Hold
	Carry   Carry
	Side    Side
	Method  Method
	Carried Place // where the yarn that is caught sits
	Working Place // where the yarn of the stitch sits; SameSide for both when rotating

	Steps []string // one act each, in order
	Short string   // a few words, for a knitter who knows the motion

	// A twist is made in alternate senses, so that turns do not add up: these are
	// the steps for the opposite of what Crossings says. Weaves have none.
	Alternate      []string
	AlternateShort string

	Crossings Crossings
	Attested  Attested
	Note      string // what else to know about this one, or empty
}

// PracticeChart is the file among the examples to try a motion on.
const PracticeChart = "practice.chart"

// DerivedCaution stands beside every motion that is worked out.
const DerivedCaution = "Worked out from the rule, not taken from a teacher: try it on a swatch first. " +
	"The example " + PracticeChart + " has rows with spans of 7 and 9 stitches for it."

// Caution is DerivedCaution for a derived motion and empty for every other.
func (m Motion) Caution() string {
	if m.Attested == Derived {
		return DerivedCaution
	}
	return ""
}

// StepsFor gives the steps that make the motion's first crossing in the given
// sense. A weave has one way only.
func (m Motion) StepsFor(s Sense) []string {
	if m.alternate(s) {
		return m.Alternate
	}
	return m.Steps
}

// ShortFor gives the short form that goes with StepsFor.
func (m Motion) ShortFor(s Sense) string {
	if m.alternate(s) {
		return m.AlternateShort
	}
	return m.Short
}

// CrossingsFor gives the crossings that go with StepsFor.
func (m Motion) CrossingsFor(s Sense) Crossings {
	if m.alternate(s) {
		return m.Crossings.Reverse()
	}
	return m.Crossings
}

func (m Motion) alternate(s Sense) bool {
	return m.Method == Twist && len(m.Crossings.Before) > 0 && m.Crossings.Before[0] != s
}

// WrongSide says how to check the catch on the wrong side. It follows from the crossings
// and is the same in both senses.
func (m Motion) WrongSide() string { return m.Crossings.WrongSide() }

// Validate reports a motion that cannot be what it says it is: one that traps nothing
// (ErrTrapsNothing), a weave that leaves a turn, a twist with the wrong number of
// crossings, a parallel motion that loses the order of the strands, or one that
// lacks its words.
func (m Motion) Validate() error {
	c := m.Crossings
	switch {
	case !c.Traps():
		return ErrTrapsNothing
	case m.Method == Weave && (len(c.Before) != 1 || len(c.After) != 1 || c.Net() != 0):
		return ErrWeaveTurns
	case m.Carry == Parallel && c.Count()%2 != 0:
		return ErrOrderLost
	case m.Method == Twist && !m.twistCounts():
		return ErrTwistCount
	case len(m.Steps) == 0 || m.Short == "" || (m.Method == Twist) != (len(m.Alternate) > 0 && m.AlternateShort != ""):
		return ErrNoSteps
	}
	return nil
}

func (m Motion) twistCounts() bool {
	c, want := m.Crossings, 2
	if m.Carry == Rotating {
		want = 1
	}
	net := c.Net()
	return len(c.After) == 0 && c.Count() == want && (net == want || net == -want)
}
