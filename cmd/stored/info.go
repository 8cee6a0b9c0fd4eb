package stored

import (
	"encoding/json"
	"time"

	"strandwise/session"
	"strandwise/store"
)

// pieceInfo is what the store keeps beside a piece's log, so that a list of pieces
// need not read every log. It says nothing the log does not.
type pieceInfo struct {
	Name     string    `json:"name"`
	Row      int       `json:"row"` // finished rows
	Of       int       `json:"of"`
	At       time.Time `json:"at"` // of the newest event
	BoundOff bool      `json:"bound_off"`
	Round    bool      `json:"round,omitempty"` // worked in the round; lists made before it was kept say rows
}

func infoOf(s *session.State) pieceInfo {
	return pieceInfo{s.Setup.Name, s.Row, s.Total(), s.LastAt, s.BoundOff, !s.Setup.Flat}
}

// KeepInfo puts beside a piece's log what the state of it says.
func KeepInfo(tx *store.Tx, id store.PieceID, s *session.State) error {
	info, err := json.Marshal(infoOf(s))
	if err != nil {
		return err
	}
	return tx.SetInfo(id, info)
}
