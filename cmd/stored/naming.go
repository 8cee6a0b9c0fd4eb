package stored

import (
	"strandwise/cmd/frame"
	"strandwise/store"
)

func nameFree(tx *store.Tx, name string) error {
	pieces, err := List(tx)
	if err != nil {
		return err
	}
	if NameTaken(pieces, name) {
		return nameInUse(name)
	}
	return nil
}

func nameInUse(name string) error {
	return frame.Refused("there is a piece named %s already", name).
		Hint("another name, or strandwise pieces rename for the other")
}

func NameTaken(pieces []Listed, name string) bool {
	for _, p := range pieces {
		if p.Name == name {
			return true
		}
	}
	return false
}

// CautionIfOther warns where a variable, which holds for the next command too, names
// another piece than the one just chosen.
func CautionIfOther(a *frame.App, name string) {
	for _, v := range frame.SettingNamed(frame.PieceKey).From {
		if other := a.Env.Getenv(v.Name); other != "" && other != name {
			a.Caution("variable %s still names %s and goes first", v.Name, other)
		}
	}
}

// Renamed settles what hangs on the name of a piece after events that may have changed
// it, an undoing among them: no two pieces have one name, and the choice follows.
func Renamed(tx *store.Tx, p *Piece, from string) error {
	to := p.State.Setup.Name
	if from == to {
		return nil
	}
	pieces, err := List(tx)
	if err != nil {
		return err
	}
	for _, other := range pieces {
		if other.Name == to && other.ID != p.ID {
			return nameInUse(to)
		}
	}
	return Rechoose(tx, from, to)
}

// Rechoose lets the kept choice of a piece follow a change of its name; with no new
// name the choice is dropped.
func Rechoose(tx *store.Tx, from, to string) error {
	kept, ok, err := tx.Setting(frame.PieceKey)
	if err != nil || !ok || string(kept) != from {
		return err
	}
	if to == "" {
		return tx.DeleteSetting(frame.PieceKey)
	}
	return tx.PutSetting(frame.PieceKey, []byte(to))
}
