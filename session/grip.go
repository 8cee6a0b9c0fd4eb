package session

import (
	"cmp"
	"unicode/utf8"

	"strandwise/floats"
	"strandwise/session/hold"
)

// Grip is how the knitter holds and catches the yarns, in words.
type Grip struct {
	Hold     string // such as two-hands
	Carry    string // parallel or rotating
	Method   string // weave or twist
	Dominant string // which yarn is carried below: pattern, background, or a yarn's symbol
	Lower    string // the place whose strand comes from below, as the knitter told; empty where she did not
}

// The words for the dominant yarn that are not a symbol.
const (
	DominantPattern    = "pattern"
	DominantBackground = "background"
)

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
	var holds []string
	for _, h := range hold.Holds() {
		holds = append(holds, h.String())
	}
	hands := g.Hands(false)
	return cmp.Or(
		checkWord("hold", g.Hold, holds...),
		checkWord("carry", g.Carry, "parallel", "rotating"),
		checkWord("method", g.Method, floats.Weave.String(), floats.Twist.String()),
		checkDominant(g.Dominant),
		hold.CheckCarry(hands.Hold, hands.Carry),
	)
}

func checkDominant(word string) error {
	if symbol, n := utf8.DecodeRuneInString(word); n == len(word) && symbol != utf8.RuneError && checkSymbol("dominant", symbol) == nil {
		return nil
	}
	return checkWord("dominant", word, DominantPattern, DominantBackground, "the symbol of a yarn")
}

func (g *Grip) fields(w *wire) {
	for _, word := range []*string{&g.Hold, &g.Carry, &g.Method, &g.Dominant} {
		w.text(word)
	}
}

// Hands is how the yarns are held, for a knitter who works either way.
func (g Grip) Hands(mirror bool) hold.Hands {
	h, _ := hold.ParseHold(g.Hold)
	c, _ := hold.ParseCarry(g.Carry)
	hands := hold.Hands{Hold: h, Carry: c, Mirror: mirror}
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
