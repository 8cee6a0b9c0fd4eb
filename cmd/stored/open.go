package stored

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"strandwise/session"
	"strandwise/store"
)

// Open folds the log of the piece with the given name, lays it out, takes its plan from
// the cache and, where it is the second of a pair, lets it follow its first; the plan is
// nil when none is kept. Form is how a command takes the name, as in Find.
func Open(tx *store.Tx, name, form string) (*Piece, error) {
	found, err := Find(tx, name, form)
	if err != nil {
		return nil, err
	}
	return openNumbered(tx, found.ID)
}

// openNumbered opens a piece by its number in the store.
func openNumbered(tx *store.Tx, id store.PieceID) (*Piece, error) {
	p, err := openAlone(tx, id)
	if err != nil {
		return nil, err
	}
	return p, pairUp(tx, p)
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

// lay lays a piece out and takes its plan from the cache.
func lay(tx *store.Tx, p *Piece) (err error) {
	if p.Layout, err = p.State.Lay(storedCharts(tx)); err != nil {
		return err
	}
	if kept, ok := tx.Cache(PlanName(p.State)); ok {
		if plan, ok := session.ReadSchedule(bytes.Clone(kept)); ok && plan.Check(p.Layout.Fabric, p.State.Task()) == nil {
			p.Schedule = plan
		}
	}
	return nil
}

// ReadLog copies the log of a piece: the fold keeps it beyond the transaction. What
// salvage could not recover is passed over; whether the piece can do without it,
// the fold tells.
func ReadLog(tx *store.Tx, id store.PieceID) ([]session.Record, error) {
	log, err := WholeLog(tx, id)
	return foldable(log), err
}

// WholeLog copies a log, the lost events too.
func WholeLog(tx *store.Tx, id store.PieceID) ([]store.Record, error) {
	var log []store.Record
	for r, err := range tx.Records(id) {
		if err != nil {
			return nil, err
		}
		r.Payload = slices.Clone(r.Payload)
		log = append(log, r)
	}
	return log, nil
}

// foldable are the records that were not lost.
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
