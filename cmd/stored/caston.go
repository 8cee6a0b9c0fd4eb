package stored

import (
	"cmp"
	"fmt"

	"strandwise/cmd/frame"
	"strandwise/session"
	"strandwise/store"
)

// CastOn begins a piece with more events right after its cast-on: laid out and planned
// while the store is free, then written in one transaction. The first piece makes the store.
func CastOn(a *frame.App, e *session.CastOn, parts Parts, more []session.Event) (*Piece, error) {
	begun, err := session.Uncast(e, parts.Chart)
	if err != nil {
		return nil, err
	}
	if err := agreeToCounts(a, e, begun.Layout); err != nil {
		return nil, err
	}
	p := &Piece{Piece: begun}
	s, err := Store(a)
	if err != nil {
		return nil, err
	}
	there, err := s.Exists()
	if err == nil && there { // a name in use is refused before the long work begins
		err = s.View(a.Context(), func(tx *store.Tx) error { return nameFree(tx, e.Name, 0) })
	}
	if err != nil {
		return nil, err
	}
	if err := Plan(a, p); err != nil {
		return nil, err
	}
	err = ChangeOrBegin(a, s, func(tx *store.Tx) error { return writePiece(a, tx, p, append([]session.Event{e}, more...), parts) })
	if err != nil {
		return nil, err
	}
	daily(a, s)
	CautionIfOther(a, e.Name)
	return p, nil
}

// agreeToCounts asks where parts misfit; the second of a pair has the counts of its first.
func agreeToCounts(a *frame.App, e *session.CastOn, l *session.Layout) error {
	misfits := l.Misfits()
	if len(misfits) == 0 || e.CopyOf != 0 {
		return nil
	}
	what := fmt.Sprintf("cast on %s although %s", e.Name, misfits[0])
	if more := len(misfits) - 1; more > 0 {
		what += fmt.Sprintf(" (and %d more like it)", more)
	}
	return a.Confirm(what)
}

// ChangeOrBegin makes a change and, where there is no store yet, a store that begins with
// it: both or neither. Another process may be first.
func ChangeOrBegin(a *frame.App, s *store.Store, change func(*store.Tx) error) error {
	return a.Commit(func() error {
		there, err := s.Exists()
		if err != nil {
			return err
		}
		if !there {
			if err := s.CreateWith(a.Context(), change); store.ClassOf(err) != store.ClassExists {
				return err
			}
		}
		return s.Update(a.Context(), change)
	})
}

// writePiece makes the new piece the current one.
func writePiece(a *frame.App, tx *store.Tx, p *Piece, events []session.Event, parts Parts) error {
	others := tx.Pieces()
	id, err := tx.NewPiece(nil)
	if err != nil {
		return err
	}
	p.ID, p.State, p.FirstEver = id, &session.State{}, len(others) == 0
	if err := LogPlanned(a, tx, p, events, parts); err != nil {
		return err
	}
	return tx.PutSetting(frame.PieceKey, []byte(p.State.Setup.Name))
}

// LogPlanned logs events that bring a new plan, and keeps that plan and the charts of new parts. Charts that
// were taken from the store are there.
func LogPlanned(a *frame.App, tx *store.Tx, p *Piece, events []session.Event, parts Parts) error {
	for _, part := range parts.Drawn {
		if part.Bytes == nil {
			continue
		}
		_, err := tx.PutChart(part.Bytes)
		if err = cmp.Or(err, keepFile(tx, part)); err != nil {
			return err
		}
	}
	if err := Log(a, tx, p, events); err != nil {
		return err
	}
	return tx.PutCache(planName(p.State), p.Schedule.Bytes())
}
