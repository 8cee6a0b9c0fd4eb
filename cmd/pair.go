package cmd

import (
	"strandwise/session"
	"strandwise/store"
)

// pairUp reads the first of the pair where the piece is a second whose first is still in
// the store, and lets the piece follow it. Numbers are given anew on import, so a piece
// that bears the first one's name goes before one that only has its number.
func pairUp(tx *store.Tx, p *atHand) error {
	setup := &p.State.Setup
	if setup.CopyOf == 0 {
		return nil
	}
	pieces, err := listPieces(tx)
	if err != nil {
		return err
	}
	name := ""
	for _, other := range pieces {
		if other.id != p.id && (other.Name == setup.FirstName || name == "" && other.id == store.PieceID(setup.CopyOf)) {
			name = other.Name
		}
	}
	if name == "" {
		return nil
	}
	first, err := open(tx, name)
	if err != nil {
		return err
	}
	p.first, p.firstID = first.Piece, first.id
	p.followFirst()
	return nil
}

// followFirst lets the plan of a second take over the catches of its first. What is
// kept in the store is the plan without them, since the first may still grow.
func (p *atHand) followFirst() {
	if p.first != nil && p.Schedule != nil {
		p.FollowFirst(p.first)
	}
}

// unpaired is the piece to plan for, without its first.
func (p *atHand) unpaired() *atHand {
	return &atHand{Piece: &session.Piece{State: p.State, Layout: p.Layout}, id: p.id, warnings: p.warnings}
}
