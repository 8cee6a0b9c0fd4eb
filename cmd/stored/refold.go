package stored

import (
	"cmp"
	"errors"
	"fmt"

	"strandwise/chart"
	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/store"
)

// Finding is something that `store check` found. It is a problem, or a note when
// the piece works all the same.
type Finding struct {
	Piece string `json:"piece"` // name, or what stands for one; "" when it is about no piece
	Seq   uint64 `json:"event"` // 0 when it is about no event
	What  string `json:"what"`
	Note  bool   `json:"-"`
}

// String is the finding as one clause.
func (f Finding) String() string {
	switch {
	case f.Piece == "":
		return f.What
	case f.Seq == 0:
		return f.Piece + ": " + f.What
	}
	return fmt.Sprintf("%s, event %d: %s", f.Piece, f.Seq, f.What)
}

// Refold folds every piece anew, from its first event, and lays it out from its
// stored charts. damaged are the pieces the store itself complained of; they are
// left out. The second result names the pieces by number.
func Refold(a *frame.App, s *store.Store, damaged map[store.PieceID]bool) ([]Finding, map[store.PieceID]string, error) {
	var ids []store.PieceID
	err := s.View(a.Context(), func(tx *store.Tx) error {
		ids = tx.Pieces()
		return nil
	})
	names := map[store.PieceID]string{}
	var found []Finding
	for _, id := range ids {
		if err := a.Context().Err(); err != nil {
			return nil, nil, err
		}
		// One transaction a piece: all of them in one might outlast the watchdog.
		err := s.View(a.Context(), func(tx *store.Tx) error {
			names[id] = NameOf(tx, id)
			if !damaged[id] {
				found = append(found, refoldPiece(tx, id, names[id])...)
			}
			return nil
		})
		if err != nil {
			return nil, nil, err
		}
	}
	return found, names, err
}

// NameOf is what to call a piece whose log may be past reading.
func NameOf(tx *store.Tx, id store.PieceID) string {
	info, _ := tx.Info(id) // none is as good as one that names nothing
	return calledOr(info, id)
}

// InfoName is the name in what is kept beside a piece's log, or "".
func InfoName(info []byte) string {
	p, _ := readInfo(info)
	return p.Name
}

// calledOr is a piece's name from its info, else its number.
func calledOr(info []byte, id store.PieceID) string {
	return cmp.Or(InfoName(info), fmt.Sprintf("piece %d", id))
}

func refoldPiece(tx *store.Tx, id store.PieceID, name string) []Finding {
	log, err := WholeLog(tx, id)
	found := lostEvents(log, name)
	if err == nil {
		info, _ := tx.Info(id) // none says nothing
		_, err = fold(log, info, storedCharts(tx))
	}
	if err != nil {
		found = append(found, asFinding(name, err))
	}
	return found
}

func asFinding(name string, err error) Finding {
	var event *session.EventError
	if errors.As(err, &event) {
		return Finding{Piece: name, Seq: event.Seq, What: fmt.Sprintf("(%s) %v", event.Kind, event.Err)}
	}
	var kept *store.Error
	if errors.As(err, &kept) {
		return Finding{Piece: name, Seq: kept.Seq, What: kept.What}
	}
	return Finding{Piece: name, What: err.Error()}
}

// storedCharts reads charts by their hash, as Lay wants them.
func storedCharts(tx *store.Tx) func([32]byte) (*chart.Chart, error) {
	return func(hash [32]byte) (*chart.Chart, error) {
		text, err := tx.Chart(hash)
		if err != nil {
			return nil, err
		}
		return chart.Parse("stored chart", text)
	}
}

// lostEvents notes the numbers that salvage could not fill.
func lostEvents(log []store.Record, name string) []Finding {
	var gaps []store.Gap
	for _, r := range log {
		if r.Kind == store.KindLost {
			gaps = store.WithLost(gaps, r.Seq)
		}
	}
	var found []Finding
	for _, gap := range gaps {
		found = append(found, Finding{Piece: name, What: GapWords(gap) + " lost before a salvage", Note: true})
	}
	return found
}

// GapWords is a gap as the subject of a sentence, with its verb.
func GapWords(g store.Gap) string {
	if g.From == g.To {
		return fmt.Sprintf("event %d was", g.From)
	}
	return fmt.Sprintf("events %d to %d were", g.From, g.To)
}
