package stored

import (
	"crypto/sha256"
	"reflect"
	"slices"

	"strandwise/session"
	"strandwise/store"
)

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
	return slices.ContainsFunc(first.State.Segments, func(s session.Segment) bool {
		parts := first.copied(s.Parts, second.State.Setup.Mirrored)
		return reflect.DeepEqual(parts.Refs, second.State.Segments[0].Parts)
	})
}

// Copied are the parts a piece was begun with, for a second one; mirrored turns them left to right.
func (p *Piece) Copied(mirrored bool) Parts { return p.copied(p.State.Setup.Parts, mirrored) }

func (p *Piece) copied(refs []session.PartRef, mirrored bool) Parts {
	charts, turned := p.Layout.Charts, map[[32]byte][32]byte{}
	copied := Parts{Refs: slices.Clone(refs)}
	for _, ref := range session.Charted(refs) {
		block := Part{Ref: ref, Chart: charts[ref.Hash]}
		if mirrored {
			block.Chart = block.Chart.Mirror()
			block.Bytes = []byte(block.Chart.String())
			block.Ref.Hash = sha256.Sum256(block.Bytes)
			turned[ref.Hash] = block.Ref.Hash
		}
		copied.Drawn = append(copied.Drawn, block)
	}
	for i, ref := range refs {
		if mirrored {
			copied.Refs[i] = ref.Turned(func(b *session.PartRef) { b.Hash = turned[b.Hash] })
		}
	}
	return copied
}

// followFirst takes over the catches of the first; the plan kept is without them, as it may still grow.
func (p *Piece) followFirst() {
	if p.First != nil && p.Schedule != nil {
		p.FollowFirst(p.First)
	}
}
