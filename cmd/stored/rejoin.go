package stored

import (
	"encoding/hex"
	"errors"
	"slices"

	"strandwise/session"
	"strandwise/store"
)

// A salvaged log may have gaps, and what comes after a gap need not follow from
// what comes before it. A lost note does no harm. A lost row does: the next one no
// longer follows. Since that next row tells which rows were worked, the lost events
// right before it are taken to be those rows, knitted without the program. Where
// that does not make the log follow, it ends at the gap; the rest is still in the
// file that was salvaged.

// Rescued is a piece of a salvaged store, made fit to be worked on.
type Rescued struct {
	Name string `json:"piece"`
	store.SalvagedPiece
	Assumed int    `json:"assumed"`   // lost events that were taken to be rows, knitted without the program
	Cut     bool   `json:"cut"`       // the log ends earlier than what was recovered of it
	Last    uint64 `json:"cut_after"` // where it was cut: its last event now, 0 when none is left
	Row     int    `json:"-"`         // finished rows
	Waits   []Wait `json:"waits"`     // for lost charts: the piece stays behind until they are given
}

// Wait is a lost chart that a piece waits for.
type Wait struct {
	Part   string `json:"part"` // its name
	File   string `json:"file"` // that the chart was read from; "" when nobody knows
	SHA256 string `json:"sha256"`

	Hash [32]byte `json:"-"`
}

// Behind reports whether the piece could not be taken into the new file.
func (p Rescued) Behind() bool { return len(p.Waits) > 0 || p.Cut && p.Last == 0 }

// Rejoin makes every piece of a salvaged store fit to be worked on.
func Rejoin(tx *store.Tx, done store.Salvaged) ([]Rescued, error) {
	var pieces []Rescued
	for _, p := range done.Pieces {
		one, err := rejoinPiece(tx, p)
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, one)
	}
	return pieces, nil
}

func rejoinPiece(tx *store.Tx, p store.SalvagedPiece) (Rescued, error) {
	one := Rescued{SalvagedPiece: p, Name: calledOr(p.Info, p.ID)}
	log, err := WholeLog(tx, p.ID)
	if err != nil {
		return one, err
	}
	mended, state := one.mend(log)
	one.Cut = len(mended) < len(log)
	if one.Cut {
		one.Last = uint64(len(mended))
	}
	if state == nil {
		return one, leaveBehind(tx, one)
	}
	one.Name, one.Row = state.Setup.Name, state.Row
	if one.Waits = lostCharts(tx, state); len(one.Waits) > 0 {
		return one, leaveBehind(tx, one)
	}
	if one.Cut || one.Assumed > 0 {
		if err := tx.ReplaceLog(p.ID, mended); err != nil {
			return one, err
		}
	}
	return one, KeepInfo(tx, one.ID, state)
}

// leaveBehind takes a piece out that nobody could work on; its events are still in the file
// that was salvaged.
func leaveBehind(tx *store.Tx, p Rescued) error {
	return errors.Join(tx.RemovePiece(p.ID), Rechoose(tx, p.Name, ""))
}

// lostCharts lists the parts of a piece whose charts are not in the store, each chart once.
func lostCharts(tx *store.Tx, s *session.State) []Wait {
	var lost []Wait
	for _, segment := range s.Segments {
		for _, part := range session.AllBlocks(segment.Parts) {
			sum := hex.EncodeToString(part.Hash[:])
			known := slices.ContainsFunc(lost, func(w Wait) bool { return w.SHA256 == sum })
			if !part.HasChart() || known {
				continue
			}
			if _, err := tx.Chart(part.Hash); err != nil {
				lost = append(lost, Wait{Part: part.Name, SHA256: sum, Hash: part.Hash})
			}
		}
	}
	return lost
}

// mend fills lost rows and cuts the log where it no longer follows. The state is nil
// when nothing of it can be folded.
func (p *Rescued) mend(log []store.Record) ([]store.Record, *session.State) {
	mended := slices.Clone(log)
	for {
		state, err := session.Fold(foldable(mended))
		if err == nil && state.Total() > 0 {
			return mended, state
		}
		var at *session.EventError
		if !errors.As(err, &at) {
			return nil, nil // no cast-on, or numbers out of order
		}
		if n := assumeRows(mended, at); n > 0 {
			p.Assumed += n
			continue
		}
		mended = beforeGap(mended[:at.Seq-1])
	}
}

// assumeRows turns the lost events right before one that came too early into the
// rows missing before it, and returns how many. It is 0 where the event is no such
// row or too few were lost.
func assumeRows(log []store.Record, at *session.EventError) int {
	var early *session.RefusedError
	if !errors.As(at.Err, &early) || early.Why != session.NotNext {
		return 0
	}
	end := int(at.Seq) - 1 // index of the event that came too early
	missing := early.Row - early.Next
	for i := end - missing; i < end; i++ {
		if i < 0 || log[i].Kind != store.KindLost {
			return 0
		}
	}
	for i := range missing {
		kind, payload := session.Encode(&session.RowKnit{Row: early.Next + i, Unwitnessed: true})
		r := &log[end-missing+i]
		r.Kind, r.Payload, r.Time = kind, payload, log[end].Time
	}
	return missing
}

// beforeGap drops the lost events at the end of a log.
func beforeGap(log []store.Record) []store.Record {
	for len(log) > 0 && log[len(log)-1].Kind == store.KindLost {
		log = log[:len(log)-1]
	}
	return log
}
