package cmd

import (
	"bytes"
	"errors"
	"fmt"

	"strandwise/session"
	"strandwise/store"
)

// opener opens a piece by its name: open or openBrief.
type opener func(tx *store.Tx, name string) (*atHand, error)

// open folds the log of the piece with the given name, lays it out and takes its
// plan from the cache; the plan is nil when none is kept.
func open(tx *store.Tx, name string) (*atHand, error) {
	id, err := findPiece(tx, name)
	if err != nil {
		return nil, err
	}
	return openWhole(tx, id)
}

// openBrief is open by the brief of the piece where one is kept: its state cannot tell
// of the log (see session.Continue).
func openBrief(tx *store.Tx, name string) (*atHand, error) {
	id, err := findPiece(tx, name)
	if err != nil {
		return nil, err
	}
	state, upTo, err := readBrief(tx, id)
	switch {
	case err != nil:
		return nil, fmt.Errorf("piece %s: %w", nameOf(tx, id), err)
	case state == nil:
		return openWhole(tx, id)
	}
	return laidOut(tx, id, state, upTo)
}

func openWhole(tx *store.Tx, id store.PieceID) (*atHand, error) {
	records, err := readLog(tx, id)
	if err != nil {
		return nil, called(err, nameOf(tx, id))
	}
	state, err := session.Fold(records)
	if err != nil {
		return nil, fmt.Errorf("piece %s: %w", nameOf(tx, id), err)
	}
	return laidOut(tx, id, state, 0)
}

func laidOut(tx *store.Tx, id store.PieceID, state *session.State, upTo uint64) (*atHand, error) {
	p := &atHand{Piece: &session.Piece{State: state}, id: id, upTo: upTo, warnings: placed(tx, tx.Warnings())}
	if err := lay(tx, p); err != nil {
		return nil, fmt.Errorf("piece %s: %w", state.Setup.Name, err)
	}
	return p, nil
}

// called gives damage of a piece the name the knitter knows it by.
func called(err error, name string) error {
	if e := (*store.Error)(nil); errors.As(err, &e) && e.Piece > 0 {
		e.Name = name
	}
	return err
}

func lay(tx *store.Tx, p *atHand) error {
	var err error
	p.Layout, err = p.State.Lay(storedCharts(tx))
	if err != nil {
		return err
	}
	if kept, ok := tx.Cache(planName(p.State)); ok {
		if plan, ok := session.ReadSchedule(bytes.Clone(kept)); ok && plan.Check(p.Layout.Fabric, p.State.Task()) == nil {
			p.Schedule = plan
		}
	}
	return nil
}

// readLog copies the log of a piece: the fold keeps it beyond the transaction. What
// salvage could not recover is passed over; whether the piece can do without it,
// the fold tells.
func readLog(tx *store.Tx, id store.PieceID) ([]session.Record, error) {
	tail, err := tx.Tail(id)
	if err != nil {
		return nil, err
	}
	return readOn(tx, id, make([]session.Record, 0, tail.Seq+roomToGrow), store.Mark{})
}

// readOn adds to the records the events that come after a mark.
func readOn(tx *store.Tx, id store.PieceID, records []session.Record, after store.Mark) ([]session.Record, error) {
	var block []byte
	for r, err := range tx.Records(id, after) {
		if err != nil {
			return nil, err
		}
		if r.Kind == store.KindLost {
			continue
		}
		if len(block)+len(r.Payload) > cap(block) {
			block = make([]byte, 0, max(blockBytes, len(r.Payload)))
		}
		from := len(block)
		block = append(block, r.Payload...)
		records = append(records, session.Record{Seq: r.Seq, Kind: r.Kind, At: r.Time, Payload: block[from:len(block):len(block)]})
	}
	return records, nil
}

// roomToGrow is how many records a step may add before a log must be copied;
// blockBytes how many bytes of payloads are copied into one allocation.
const (
	roomToGrow = 4
	blockBytes = 16 << 10
)
