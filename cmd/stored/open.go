package stored

import (
	"errors"
	"fmt"

	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/store"
)

// Open folds the log of a piece, lays it out, and lets the second of a pair follow its first; the plan is
// the one in the cache, or nil. Form is how a command takes the name, as in Find.
func Open(tx *store.Tx, name, form string) (*Piece, error) {
	found, err := Find(tx, name, form)
	if err != nil {
		return nil, err
	}
	return openNumbered(tx, found.ID)
}

func openNumbered(tx *store.Tx, id store.PieceID) (*Piece, error) {
	p, err := openAlone(tx, id)
	if err != nil || p.State.Setup.CopyOf == 0 {
		return p, err
	}
	first, err := firstOf(tx, p)
	if err == nil && first != nil {
		p.First = first.Piece
		p.followFirst()
	}
	return p, err
}

// openAlone is Open without regard to a first of the pair.
func openAlone(tx *store.Tx, id store.PieceID) (*Piece, error) {
	state, err := FoldLog(tx, id)
	if err != nil {
		return nil, called(err, NameOf(tx, id))
	}
	p := &Piece{Piece: &session.Piece{State: state}, ID: id}
	if err := lay(tx, p); err != nil {
		return nil, fmt.Errorf("piece %s: %w", state.Setup.Name, err)
	}
	return p, nil
}

// called gives what is wrong with a piece the name the knitter knows it by.
func called(err error, name string) error {
	if e := (*store.Error)(nil); errors.As(err, &e) {
		if e.Piece > 0 {
			e.Name = name
		}
		return err
	}
	return fmt.Errorf("piece %s: %w", name, err)
}

func lay(tx *store.Tx, p *Piece) (err error) {
	if p.Layout, err = p.State.Lay(storedCharts(tx.Chart)); err != nil {
		return err
	}
	if kept, ok := tx.Cache(planName(p.State)); ok {
		if plan, ok := session.ReadSchedule(kept); ok && plan.Check(p.Layout.Fabric, p.State.Task()) == nil {
			p.Schedule = plan
		}
	}
	return nil
}

// ReadLog reads a log as the fold takes it, without what salvage could not recover: whether the
// piece can do without it, the fold tells.
func ReadLog(tx *store.Tx, id store.PieceID) ([]session.Record, error) {
	log, err := tx.Records(id)
	return foldable(log), err
}

func foldable(log []store.Record) []session.Record {
	var records []session.Record
	for _, r := range log {
		if r.Kind != store.KindLost {
			records = append(records, session.Record{Seq: r.Seq, Kind: r.Kind, At: r.Time, Payload: r.Payload})
		}
	}
	return records
}

// FoldLog reads and folds the log of a piece.
func FoldLog(tx *store.Tx, id store.PieceID) (*session.State, error) {
	records, err := ReadLog(tx, id)
	if err != nil {
		return nil, err
	}
	return session.Fold(records)
}

// Store names the store of this run; it touches nothing.
func Store(a *frame.App) (*store.Store, error) {
	return a.StoreWith(store.Options{Warn: func(tx *store.Tx, w store.Warning) {
		if !frame.AsksCompletion(a.Env.Args) {
			a.Warn(Placed(tx, []store.Warning{w}))
		}
	}})
}

// View reads the store of this run.
func View(a *frame.App, read func(*store.Tx) error) error {
	s, err := Store(a)
	if err != nil {
		return err
	}
	return s.View(a.Context(), read)
}

// Placed names the last event found of a damaged header, and tells of it as far as the log can be read: so the
// knitter can tell whether one is gone.
func Placed(tx *store.Tx, warnings []store.Warning) []store.Warning {
	for i, w := range warnings {
		if w.Piece == 0 {
			continue
		}
		last := fmt.Sprintf("%d of %s", w.Seq, NameOf(tx, w.Piece))
		if p, err := openAlone(tx, w.Piece); err == nil {
			if e, is := p.State.Entry(w.Seq); is { // what is logged now may stand behind it already
				last += fmt.Sprintf(" (%s)", p.Words(e))
			}
		}
		warnings[i].Text += "; look whether the last event found, " + last + ", is the last you logged"
	}
	return warnings
}
