package stored

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"strandwise/cmd/frame"
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

// Rejoin makes the pieces of a salvage fit to be worked on, and leaves out what nobody could work on.
func Rejoin(whole *store.Parcel, found []store.SalvagedPiece) (pieces []Rescued, err error) {
	var fit []*store.ParcelPiece
	for i, p := range whole.Pieces {
		one := Rescued{SalvagedPiece: found[i], Name: calledOr(p.Info, found[i].ID)}
		ok, err := one.rejoin(p, whole.Charts)
		if err != nil {
			return nil, err
		}
		if pieces = append(pieces, one); ok {
			fit = append(fit, p)
			continue
		}
		whole.Settings = slices.DeleteFunc(whole.Settings, func(s store.ParcelSetting) bool {
			return s.Name == frame.PieceKey && string(s.Value) == one.Name
		})
	}
	whole.Pieces = fit
	return pieces, nil
}

// rejoin mends a log and what is kept beside it; ok is false when nobody could work on it.
func (p *Rescued) rejoin(piece *store.ParcelPiece, charts []store.ParcelChart) (ok bool, err error) {
	log := piece.Records
	mended, state := p.mend(log)
	if p.Cut = len(mended) < len(log); p.Cut {
		p.Last = uint64(len(mended))
	}
	if state == nil {
		return false, nil
	}
	p.Name, p.Row = state.Setup.Name, state.Row
	if p.Waits = lostCharts(state, charts); len(p.Waits) > 0 {
		return false, nil
	}
	piece.Records = nil
	for _, r := range mended {
		piece.Add(r)
	}
	piece.Info, err = json.Marshal(infoOf(state))
	return err == nil, err
}

func lostCharts(s *session.State, charts []store.ParcelChart) []Wait {
	var lost []Wait
	for _, segment := range s.Segments {
		for _, part := range session.Charted(segment.Parts) {
			known := slices.ContainsFunc(lost, func(w Wait) bool { return w.Hash == part.Hash })
			there := slices.ContainsFunc(charts, func(c store.ParcelChart) bool { return c.Hash == part.Hash })
			if !known && !there {
				lost = append(lost, Wait{Part: part.Name, SHA256: fmt.Sprintf("%x", part.Hash), Hash: part.Hash})
			}
		}
	}
	return lost
}

// mend fills lost rows and cuts the log where it no longer follows; nil when nothing can be folded.
func (p *Rescued) mend(log []store.Record) ([]store.Record, *session.State) {
	mended := slices.Clone(log)
	for {
		state, err := session.Fold(foldable(mended))
		if err == nil && state.Total() > 0 {
			return mended, state
		}
		at, ok := errors.AsType[*session.EventError](err)
		if !ok {
			return nil, nil // no cast-on
		}
		if n := assumeRows(mended, at); n > 0 {
			p.Assumed += n
			continue
		}
		mended = mended[:at.Seq-1]
		for len(mended) > 0 && mended[len(mended)-1].Kind == store.KindLost {
			mended = mended[:len(mended)-1]
		}
	}
}

// assumeRows turns the lost events right before one that came too early into the rows missing there, and
// returns how many: 0 where the event is no such row or too few were lost.
func assumeRows(log []store.Record, at *session.EventError) int {
	early, ok := errors.AsType[*session.RefusedError](at.Err)
	if !ok || early.Next == 0 {
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
