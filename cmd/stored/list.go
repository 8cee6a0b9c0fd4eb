package stored

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"
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

// List reads what is kept beside every piece, oldest first; beside an error, what could be read.
func List(tx *store.Tx) (pieces []Listed, err error) {
	for _, id := range tx.Pieces() {
		info, fault := tx.Info(id)
		err = cmp.Or(err, fault)
		if p, ok := readInfo(info); ok && fault == nil { // else salvaged without its info: store check names it
			pieces = append(pieces, Listed{id, p})
		}
	}
	return pieces, err
}

func readInfo(info []byte) (p Info, ok bool) {
	if json.Unmarshal(info, &p) != nil {
		return Info{}, false
	}
	p.Name = frame.PlainText([]byte(p.Name))
	return p, true
}

// Find finds a piece by name; without a name the only one there is. Another that cannot be read
// is in nobody's way. Form is how a command takes the name, %s stands for it.
func Find(tx *store.Tx, name, form string) (found Listed, err error) {
	pieces, err := List(tx)
	var names []string
	for _, p := range pieces {
		if p.Name == name && name != "" {
			return p, nil
		}
		names = append(names, p.Name)
	}
	switch {
	case err != nil:
		return found, err
	case len(pieces) == 0:
		return found, frame.Refused("no piece is cast on yet").Hint("%s", frame.Beginning[0]).Hint("%s", frame.Beginning[1])
	case name == "" && len(pieces) == 1:
		return pieces[0], nil
	case name == "":
		return found, frame.Refused("there are %d pieces and none is chosen", len(pieces)).Hint("strandwise pieces %s", frame.InShell(names[len(names)-1]))
	}
	f := frame.Refused("there is no piece named %s", name)
	if near := frame.Nearest(name, names); near != "" {
		return found, f.Hint("%s", strings.Replace(form, "%s", frame.InShell(near), 1))
	}
	return found, f.Hint("strandwise pieces, which lists them")
}

// Info is kept beside a log for a list that reads no log; it says nothing the log does not.
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

func nameFree(tx *store.Tx, name string, id store.PieceID) error {
	pieces, err := List(tx)
	if err == nil && slices.ContainsFunc(pieces, func(p Listed) bool { return p.Name == name && p.ID != id }) {
		err = frame.Refused("there is a piece named %s already", name).Hint("another name, or strandwise pieces rename for the other")
	}
	return err
}

// CautionIfOther warns of a variable that names, also for the next command, another piece.
func CautionIfOther(a *frame.App, name string) {
	variable := frame.SettingNamed(frame.PieceKey).Variable()
	if other := a.Env.Getenv(variable); other != "" && other != name {
		a.Notice("variable %s still names %s and goes first", variable, other)
	}
}

// settleName settles what hangs on the name of a piece after events that may have changed it, an undoing
// among them: no two pieces have one name, and the choice follows, unless it is of another of that name.
func settleName(tx *store.Tx, p *Piece, from string) error {
	to := p.State.Setup.Name
	if from == to {
		return nil
	}
	err := nameFree(tx, to, p.ID)
	if err == nil && nameFree(tx, from, p.ID) == nil {
		err = Rechoose(tx, from, to)
	}
	return err
}

// Rechoose lets the kept choice of a piece follow its new name; with "" the choice is dropped.
func Rechoose(tx *store.Tx, from, to string) error {
	if kept, ok := tx.Setting(frame.PieceKey); !ok || string(kept) != from {
		return nil
	}
	if to == "" {
		return tx.DeleteSetting(frame.PieceKey)
	}
	return tx.PutSetting(frame.PieceKey, []byte(to))
}

// Remove takes a piece out of the store, and of its charts those that no other log
// names. A plan that was undone counts too: to redo it takes its charts. Where a log cannot
// be read nobody can tell, and all charts stay.
func Remove(tx *store.Tx, id store.PieceID) error {
	mine, err := chartsNamed(tx, id)
	if err != nil {
		return err
	}
	if err := tx.RemovePiece(id); err != nil {
		return err
	}
	for _, other := range tx.Pieces() {
		named, err := chartsNamed(tx, other)
		if err != nil {
			return nil
		}
		for hash := range named {
			delete(mine, hash)
		}
	}
	for hash := range mine {
		if err := cmp.Or(tx.RemoveChart(hash), tx.DeleteCache(FileKey(hash))); err != nil {
			return err
		}
	}
	return nil
}

func chartsNamed(tx *store.Tx, id store.PieceID) (map[store.Hash]bool, error) {
	named := map[store.Hash]bool{}
	log, err := ReadLog(tx, id)
	for _, r := range log {
		e, err := session.Decode(r.Kind, r.Payload)
		if err != nil {
			return nil, err
		}
		for _, part := range session.Charted(session.PartsNamed(e)) {
			named[part.Hash] = true
		}
	}
	return named, err
}
