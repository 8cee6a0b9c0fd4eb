package session

import (
	"cmp"
	"unicode/utf8"

	"strandwise/floats"
	"strandwise/session/hold"
)

// Grip is how the knitter holds and catches the yarns, in words: the dominant yarn, carried below, is the pattern,
// the background, or that of a symbol.
type Grip struct {
	Hold     string `json:"hold"`
	Carry    string `json:"carry"`
	Method   string `json:"method"`
	Dominant string `json:"dominant"` // pattern, background or a symbol
	Lower    string `json:"-"`        // the place whose strand comes from below, as the knitter told; empty where she did not
}

// FloatMethod is the method of the grip as the planner takes it.
func (g Grip) FloatMethod() floats.Method {
	if g.Method == floats.Twist.String() {
		return floats.Twist
	}
	return floats.Weave
}

// Changed is the grip with the words of by that are given.
func (g Grip) Changed(by Grip) Grip {
	if by.Hold != "" && by.Hold != g.Hold || by.Carry != "" && by.Carry != g.Carry {
		g.Lower = "" // it was told of other hands
	}
	g.Hold, g.Carry = cmp.Or(by.Hold, g.Hold), cmp.Or(by.Carry, g.Carry)
	g.Method, g.Dominant = cmp.Or(by.Method, g.Method), cmp.Or(by.Dominant, g.Dominant)
	return g
}

func (g Grip) check() error {
	hands := g.Hands(false)
	return cmp.Or(
		checkWord("hold", g.Hold, mapped(hold.Holds(), hold.Hold.String)...),
		checkWord("carry", g.Carry, "parallel", "rotating"),
		checkWord("method", g.Method, floats.Weave.String(), floats.Twist.String()),
		checkDominant(g.Dominant),
		hold.CheckCarry(hands.Hold, hands.Carry),
	)
}

func (g *Grip) fields(w *wire) {
	for _, word := range []*string{&g.Hold, &g.Carry, &g.Method, &g.Dominant} {
		w.text(word)
	}
}

// Hands is how the yarns are held, for a knitter who works either way.
func (g Grip) Hands(mirror bool) hold.Hands {
	hands := hold.Hands{Hold: hold.ParseHold(g.Hold), Carry: hold.ParseCarry(g.Carry), Mirror: mirror}
	if g.Lower != "" {
		hands.Lower, _ = hands.ParsePlace(g.Lower)
	}
	return hands
}

func (g Grip) refuseSameHold() error {
	e := refuse("nothing changes: it is hold %s, carry %s, %s, dominant %s already", g.Hold, g.Carry, g.Method, g.Dominant)
	e.Try = []string{"strandwise hold, which tells how the yarns are held", "strandwise motions, which lists the holds"}
	return e
}

// The words for the dominant yarn that are not a symbol.
const (
	DominantPattern    = "pattern"
	DominantBackground = "background"
)

func checkDominant(word string) error {
	if symbol, n := utf8.DecodeRuneInString(word); n == len(word) && symbol != utf8.RuneError && checkSymbol("dominant", symbol) == nil {
		return nil
	}
	return checkWord("dominant", word, DominantPattern, DominantBackground, "the symbol of a yarn")
}
