package cmd

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"strandwise/chart"
	"strandwise/cmd/answer"
	"strandwise/cmd/document"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/session/hold"
)

func newHold(a *frame.App) *cobra.Command {
	g := &gripFlags{}
	c := a.Leaf(frame.Spec{Use: "hold [HOLD]", Writes: true, JSON: true, Complete: oneAmong(holds)}, g.runHold)
	g.add(c.Flags())
	c.Flags().Lookup("hold").Hidden = true
	return c
}

// takeHold takes the hold from the argument; the flag is how it was given once.
func (g *gripFlags) takeHold(a *frame.App, args []string) error {
	if g.Hold != "" {
		a.Renamed("hold --hold "+g.Hold, "hold "+g.Hold)
	}
	if len(args) == 0 {
		return nil
	}
	word := args[0]
	if err := frame.OneOf(&g.Hold, holds...).Set(word); err != nil {
		for flag, words := range map[string][]string{"carry": carries, "method": methods} {
			if slices.Contains(words, word) {
				return frame.Usage("%q is no hold", word).Hint("strandwise hold --%s %s", flag, word)
			}
		}
		return frame.Usage("hold %v", err).
			HintNear(word, holds, "strandwise hold %s", "strandwise hold --dominant "+frame.InShell(word)+", if it is a yarn")
	}
	return nil
}

func (g *gripFlags) runHold(a *frame.App, args []string) error {
	if err := g.takeHold(a, args); err != nil {
		return err
	}
	changes := *g != gripFlags{}
	a.Writes.Store(changes)
	p, err := stored.Take(a)
	if err != nil {
		return err
	}
	if !changes {
		return a.Answer(1, answer.NewHold(p.Piece, ""))
	}
	var lower []session.Event
	if g.Hold != "" || g.Lower != "" {
		after := p.State.Setup.Grip.Changed(session.Grip{Hold: g.Hold, Carry: g.Carry})
		if lower, err = lowerFor(a, g.Lower, after.Hands(p.State.Setup.Mirror)); err != nil {
			return err
		}
	}
	p, err = stored.Change(a, func(p *stored.Piece) ([]session.Event, error) {
		if *g == (gripFlags{Lower: g.Lower}) {
			return lower, nil
		}
		grip, err := g.grip(p.Layout.Fabric.Yarns)
		return append([]session.Event{&session.HoldChanged{Grip: grip}}, lower...), err
	})
	if err != nil {
		return err
	}
	return a.Answer(1, answer.NewHold(p.Piece, holdWords(p)))
}

func holdWords(p *stored.Piece) string {
	var lines []string
	for _, e := range p.State.History() {
		if e.Seq >= p.State.CanUndo {
			lines = append(lines, p.Words(e))
		}
	}
	return strings.Join(lines, "; ")
}

// gripFlags are the flags of how the yarns are held and caught; empty is not given.
type gripFlags session.Grip

func (g *gripFlags) add(set *pflag.FlagSet) {
	addWord(set, &g.Hold, "hold", "how you hold the yarns", holds)
	addWord(set, &g.Carry, "carry", "the order the strands keep", carries)
	addWord(set, &g.Method, "method", "how floats are caught", methods)
	set.StringVar(&g.Lower, "lower", "", "the place whose strand comes from below in your hands, where teachers differ: `PLACE`, such as near-strand")
	set.StringVar(&g.Dominant, "dominant", "", "the yarn carried below, whose stitches stand out: `pattern|background|SYMBOL`")
}

func addWord(set *pflag.FlagSet, to *string, name, usage string, words []string) {
	set.Var(frame.OneOf(to, words...), name, usage+", as `"+strings.ToUpper(name)+"`: "+session.Listed(words, "or"))
}

// The words there are for each of them.
var (
	holds   = frame.WordsOf(hold.Holds())
	carries = frame.WordsOf([]hold.Carry{hold.Parallel, hold.Rotating})
	methods = frame.WordsOf(hold.Methods())
)

// grip is what the flags say; a dominant yarn is one of yarns.
func (g gripFlags) grip(yarns []chart.Yarn) (grip session.Grip, err error) {
	grip = session.Grip(g)
	if grip.Lower = ""; g.Dominant != "" {
		grip.Dominant, err = dominantWord(g.Dominant, yarns)
	}
	return grip, err
}

// gripFor completes the flags of a cast-on from the settings. A carry that comes from
// a setting gives way to a hold it cannot go with; a method nobody asked for is the
// one that goes best with the hold.
func gripFor(a *frame.App, g gripFlags, yarns []chart.Yarn) (session.Grip, error) {
	grip, err := g.grip(yarns)
	if err != nil {
		return grip, err
	}
	settleHold(a, &grip)
	grip.Dominant = cmp.Or(grip.Dominant, session.DominantPattern)
	hands := grip.Hands(false)
	err = hold.CheckCarry(hands.Hold, hands.Carry)
	if err != nil && g.Carry == "" {
		hands.Carry, grip.Carry, err = hold.Parallel, hold.Parallel.String(), nil
	}
	if err != nil || grip.Method != "" {
		return grip, err
	}
	v := a.Settings.Get("method")
	if grip.Method = v.Text; v.Origin == frame.OriginDefault {
		grip.Method = hold.Recommend(hands.Hold, hands.Carry).Method.String()
	}
	return grip, nil
}

func settleHold(a *frame.App, grip *session.Grip) {
	grip.Hold = cmp.Or(grip.Hold, a.Settings.Get("hold").Text)
	grip.Carry = cmp.Or(grip.Carry, a.Settings.Get("carry").Text)
}

func dominantWord(word string, yarns []chart.Yarn) (string, error) {
	if word == session.DominantPattern || word == session.DominantBackground {
		return word, nil
	}
	if i := chart.YarnNamed(yarns, word); i != chart.NoYarn {
		return string(yarns[i].Symbol), nil
	}
	return "", frame.Usage("--dominant takes pattern, background or a yarn of the piece, not %q", word).
		HintNear(word, dominantWords(yarns), "--dominant %q", "--dominant "+session.DominantPattern)
}

func dominantWords(yarns []chart.Yarn) []string {
	names := []string{session.DominantPattern, session.DominantBackground}
	for _, y := range yarns {
		if strings.TrimSpace(y.Name) != "" && !slices.Contains(names, y.Name) {
			names = append(names, y.Name)
		}
	}
	return names
}

// Which of two strands comes from below is a fact of the knitter's hands. Where teachers
// differ it is asked for once, when such a hold is chosen at a terminal; a knitter who does
// not know goes on with what is usual, marked as not sure.

// lowerFor is the event that tells it, or none: as the flag says, else as she answers.
func lowerFor(a *frame.App, given string, hands hold.Hands) ([]session.Event, error) {
	word := given
	if word == "" && hands.Asks() && a.CanAsk() && !a.Flags.JSON && !a.Flags.Yes {
		var err error
		if word, err = askLower(a, hands); err != nil {
			return nil, err
		}
	}
	if word == "" {
		return nil, nil
	}
	if hands.Carry == hold.Rotating {
		return nil, frame.Usage("--lower tells which strand stays below, and in a rotating carry none does").Hint("leave --lower out")
	}
	place, err := hands.ParsePlace(word)
	if err != nil {
		return nil, err
	}
	return []session.Event{&session.LowerSet{Place: place.String()}}, nil
}

// askLower asks, until the answer is one of the places; an empty one is the usual place.
func askLower(a *frame.App, hands hold.Hands) (string, error) {
	places := hands.Places()
	a.WarnBefore(document.Document{Blocks: []document.Block{
		document.Line{Text: document.Words(fmt.Sprintf("Which strand comes from below: 1 %s, or 2 %s?", places[0], places[1]))},
		document.Line{Text: document.Words("If you are not sure, look at the wrong side below the needle: the floats of that yarn lie lower.")},
		document.Line{Text: document.Words(fmt.Sprintf("Enter alone is %s, as not sure.", places[0]))},
	}})
	for {
		answer, err := a.Ask("1, 2 or enter: ") // the longest lines are broken, a question is not
		if err != nil || answer == "" {
			return "", err
		}
		if n, err := strconv.Atoi(answer); err == nil && n >= 1 && n <= len(places) {
			return places[n-1].String(), nil
		}
		if place, err := hands.ParsePlace(answer); err == nil {
			return place.String(), nil
		}
	}
}
