package stored

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/store"
)

// Listed is a piece as the store's list has it.
type Listed struct {
	ID store.PieceID
	Info
}

// List reads what is kept beside every piece, oldest first.
func List(tx *store.Tx) ([]Listed, error) {
	var pieces []Listed
	for _, id := range tx.Pieces() {
		info, err := tx.Info(id)
		if err != nil {
			return nil, err
		}
		p := Listed{ID: id}
		if err := json.Unmarshal(info, &p.Info); err != nil {
			continue // salvaged without its info: store check names it
		}
		p.Name = frame.PlainText([]byte(p.Name))
		pieces = append(pieces, p)
	}
	return pieces, nil
}

// pieceNamed finds a piece by name. Another whose info cannot be read is in nobody's way.
func pieceNamed(tx *store.Tx, name string) (id store.PieceID, found bool, err error) {
	for _, id := range tx.Pieces() {
		info, fault := tx.Info(id)
		if fault == nil && InfoName(info) == name && name != "" {
			return id, true, nil
		}
		if err == nil {
			err = fault
		}
	}
	return 0, false, err
}

// Find finds a piece by name; without a name the only one there is.
func Find(tx *store.Tx, name string) (store.PieceID, error) {
	if id, found, err := pieceNamed(tx, name); err != nil || found {
		return id, err
	}
	pieces, err := List(tx)
	if err != nil {
		return 0, err
	}
	var names []string
	for _, p := range pieces {
		names = append(names, p.Name)
	}
	switch {
	case len(pieces) == 0:
		return 0, frame.Refused("no piece is cast on yet").Hint("%s", frame.Beginning[0]).Hint("%s", frame.Beginning[1])
	case name == "" && len(pieces) == 1:
		return pieces[0].ID, nil
	case name == "":
		return 0, frame.Refused("there are %d pieces and none is chosen", len(pieces)).Hint("strandwise pieces %s", frame.InShell(names[len(names)-1]))
	}
	return 0, &noPieceNamed{name, frame.Nearest(name, names)}
}

// noPieceNamed tells that there is no piece of a name; near is one that was perhaps
// meant, or empty.
type noPieceNamed struct{ name, near string }

func (e *noPieceNamed) Error() string { return "there is no piece named " + e.name }

// Unwrap is the refusal of a command that takes the name by --piece.
func (e *noPieceNamed) Unwrap() error {
	return frame.Refused("%v", e).Hint("%s", e.hintFor("--piece %s"))
}

// hintFor names the nearest piece as the command takes it, a form with %s for the name.
func (e *noPieceNamed) hintFor(form string) string {
	if e.near == "" {
		return "strandwise pieces, which lists them"
	}
	return fmt.Sprintf(form, frame.InShell(e.near))
}

// AsArgument tells of a piece that is not there as a command takes its name: in form, %s
// stands for it.
func AsArgument(err error, form string) error {
	if e := (*noPieceNamed)(nil); errors.As(err, &e) {
		return frame.Refused("%v", e).Hint("%s", e.hintFor(form)).Because(err)
	}
	return err
}

// Info is what the store keeps beside a piece's log, so that a list of pieces
// need not read every log. It says nothing the log does not.
type Info struct {
	Name     string    `json:"name"`
	Row      int       `json:"row"` // finished rows
	Of       int       `json:"of"`
	At       time.Time `json:"at"` // of the newest event
	BoundOff bool      `json:"bound_off"`
	Round    bool      `json:"round,omitempty"` // worked in the round; lists made before it was kept say rows
}

func infoOf(s *session.State) Info {
	return Info{s.Setup.Name, s.Row, s.Total(), s.LastAt, s.BoundOff, !s.Setup.Flat}
}

// KeepInfo puts beside a piece's log what the state of it says.
func KeepInfo(tx *store.Tx, id store.PieceID, s *session.State) error {
	info, err := json.Marshal(infoOf(s))
	if err != nil {
		return err
	}
	return tx.SetInfo(id, info)
}

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

// NameTaken reports whether one of the pieces has a name.
func NameTaken(pieces []Listed, name string) bool {
	return slices.ContainsFunc(pieces, func(p Listed) bool { return p.Name == name })
}

// CautionIfOther warns where a variable, which holds for the next command too, names
// another piece than the one just chosen.
func CautionIfOther(a *frame.App, name string) {
	for _, v := range frame.SettingNamed(frame.PieceKey).From {
		if other := a.Env.Getenv(v.Name); other != "" && other != name {
			a.Notice("variable %s still names %s and goes first", v.Name, other)
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
	if kept, ok := tx.Setting(frame.PieceKey); !ok || string(kept) != from {
		return nil
	}
	if to == "" {
		return tx.DeleteSetting(frame.PieceKey)
	}
	return tx.PutSetting(frame.PieceKey, []byte(to))
}
