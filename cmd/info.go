package cmd

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
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

// encode is the info as json.Marshal would write it. To have the package look at the
// type first would take longer than all the rest of what a step writes.
func (i pieceInfo) encode() ([]byte, error) {
	name, err := quoted(i.Name)
	if err != nil {
		return nil, err
	}
	b := fmt.Appendf(nil, `{"name":%s,"row":%d,"of":%d,"at":"%s","bound_off":%t`, name, i.Row, i.Of, i.At.Format(time.RFC3339Nano), i.BoundOff)
	if i.Round {
		b = append(b, `,"round":true`...)
	}
	return append(b, '}'), nil
}

// quoted is a text as json.Marshal would write it. Names are mostly plain, and to make the
// package ready for a single one takes longer than to look at its letters.
func quoted(text string) ([]byte, error) {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || strings.IndexByte(`"\\<>&`, c) >= 0 {
			return json.Marshal(text)
		}
	}
	return []byte(`"` + text + `"`), nil
}

func keepInfo(tx *store.Tx, p *atHand) error {
	info, err := infoOf(p.State).encode()
	if err != nil {
		return err
	}
	return errors.Join(tx.SetInfo(p.id, info), hint(tx, p.State.Setup.Name, p.id))
}
