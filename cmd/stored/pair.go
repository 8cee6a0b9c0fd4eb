package stored

import (
	"crypto/sha256"
	"slices"

	"strandwise/chart"
	"strandwise/session"
	"strandwise/store"
)

// pairUp reads the first of the pair where the piece is a second whose first is still in
// the store, and lets the piece follow it.
func pairUp(tx *store.Tx, p *Piece) error {
	if p.State.Setup.CopyOf == 0 {
		return nil
	}
	first, err := firstOf(tx, p)
	if err != nil || first == nil {
		return err
	}
	p.First = first.Piece
	p.followFirst()
	return nil
}

// firstOf finds the first of a pair, nil where it is gone: the piece with its number and
// name. On import numbers are given anew, and names change; so a piece with only the
// number, else one with only the name, is the first if the second could be made from it.
func firstOf(tx *store.Tx, second *Piece) (*Piece, error) {
	pieces, err := List(tx)
	if err != nil {
		return nil, err
	}
	setup := &second.State.Setup
	var numbered, named []Listed
	for _, other := range pieces {
		switch {
		case other.ID == second.ID:
		case other.ID == store.PieceID(setup.CopyOf) && other.Name == setup.FirstName:
			return openAlone(tx, other.ID)
		case other.ID == store.PieceID(setup.CopyOf):
			numbered = append(numbered, other)
		case other.Name == setup.FirstName:
			named = append(named, other)
		}
	}
	for _, other := range append(numbered, named...) {
		if first, err := openAlone(tx, other.ID); err != nil || couldBeFirst(first, second) {
			return first, err
		}
	}
	return nil, nil
}

// couldBeFirst reports whether a piece has, or had before it was planned anew, the parts
// the second was begun with, turned left to right where the second's are.
func couldBeFirst(first, second *Piece) bool {
	if !second.State.Setup.Mirrored {
		return sharesPlan(first.State, second.State, nil)
	}
	turned := map[[32]byte][32]byte{}
	for hash, c := range first.Layout.Charts {
		_, _, turned[hash] = TurnedChart(c)
	}
	return sharesPlan(first.State, second.State, turned)
}

// sharesPlan compares the parts of every plan of a piece with those a second has from its
// first row; turned gives the hash by which the second knows a chart, its own when nil.
func sharesPlan(first, second *session.State, turned map[[32]byte][32]byte) bool {
	same := func(a, b session.PartRef) bool {
		if turned != nil {
			a = a.Turned(func(b *session.PartRef) { b.Hash = turned[b.Hash] })
		}
		return session.SameParts([]session.PartRef{a}, []session.PartRef{b})
	}
	return slices.ContainsFunc(first.Segments, func(s session.Segment) bool {
		return slices.EqualFunc(s.Parts, second.Segments[0].Parts, same)
	})
}

// followFirst lets the plan of a second take over the catches of its first. What is
// kept in the store is the plan without them, since the first may still grow.
func (p *Piece) followFirst() {
	if p.First != nil && p.Schedule != nil {
		p.FollowFirst(p.First)
	}
}

// TurnedChart is a chart turned left to right, as a file and by the hash of that.
func TurnedChart(c *chart.Chart) (turned *chart.Chart, text []byte, hash [32]byte) {
	turned = c.Mirror()
	text = []byte(turned.String())
	return turned, text, sha256.Sum256(text)
}
