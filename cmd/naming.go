package cmd

import (
	"strandwise/store"
)

func nameFree(tx *store.Tx, name string) error {
	pieces, err := listPieces(tx)
	if err != nil {
		return err
	}
	if nameTaken(pieces, name) {
		return nameInUse(name)
	}
	return nil
}

func nameInUse(name string) error {
	return refused("there is a piece named %s already", name).
		hint("another name, or strandwise pieces rename for the other")
}

func nameTaken(pieces []listedPiece, name string) bool {
	for _, p := range pieces {
		if p.Name == name {
			return true
		}
	}
	return false
}

// cautionIfOther warns where a variable, which holds for the next command too, names
// another piece than the one just chosen.
func (a *app) cautionIfOther(name string) {
	for _, v := range settingNamed(pieceKey).from {
		if other := a.env.Getenv(v.name); other != "" && other != name {
			a.caution("variable %s still names %s and goes first", v.name, other)
		}
	}
}

// renamed settles what hangs on the name of a piece after events that may have changed
// it, an undoing among them: no two pieces have one name, and the choice follows.
func renamed(tx *store.Tx, p *storedPiece, from string) error {
	to := p.State.Setup.Name
	if from == to {
		return nil
	}
	pieces, err := listPieces(tx)
	if err != nil {
		return err
	}
	for _, other := range pieces {
		if other.Name == to && other.id != p.id {
			return nameInUse(to)
		}
	}
	return rechoose(tx, from, to)
}

// rechoose lets the kept choice of a piece follow a change of its name; with no new
// name the choice is dropped.
func rechoose(tx *store.Tx, from, to string) error {
	kept, ok, err := tx.Setting(pieceKey)
	if err != nil || !ok || string(kept) != from {
		return err
	}
	if to == "" {
		return tx.DeleteSetting(pieceKey)
	}
	return tx.PutSetting(pieceKey, []byte(to))
}
