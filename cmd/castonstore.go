package cmd

import (
	"context"

	"strandwise/floats"
	"strandwise/session"
	"strandwise/store"
)

// castOnWith begins a piece with more events right after its cast-on: laid out and planned
// while the store is free, then written in one transaction. The first piece makes the store.
func (a *app) castOnWith(ctx context.Context, e *session.CastOn, parts []partRead, more []session.Event) (*storedPiece, error) {
	p := &storedPiece{Piece: &session.Piece{}}
	var err error
	p.Layout, err = session.LayParts(e.Parts, chartsOf(parts), floats.Work{Flat: e.Flat, Mirror: e.Mirror})
	if err != nil {
		return nil, err
	}
	s, err := a.openStore()
	if err != nil {
		return nil, err
	}
	if err := a.readyFor(ctx, s, e.Name); err != nil {
		return nil, err
	}
	task := floats.Task{Limit: e.Limit, Method: e.FloatMethod(), RestLimit: e.RestLimit}
	if p.Schedule, err = a.makePlan(ctx, p.Layout.Fabric, task); err != nil {
		return nil, err
	}
	err = a.changeOrBegin(ctx, s, func(tx *store.Tx) error { return a.writePiece(tx, p, append([]session.Event{e}, more...), parts) })
	if err != nil {
		return nil, err
	}
	a.daily(ctx, s)
	a.cautionIfOther(e.Name)
	return p, nil
}

// readyFor refuses a name in use before the long work begins.
func (a *app) readyFor(ctx context.Context, s *store.Store, name string) error {
	if there, err := s.Exists(); err != nil || !there {
		return err
	}
	return s.View(ctx, func(tx *store.Tx) error { return nameFree(tx, name) })
}

// changeOrBegin makes a change and, where there is no store yet, a store that begins with
// it: both or neither. Another process may be first.
func (a *app) changeOrBegin(ctx context.Context, s *store.Store, change func(*store.Tx) error) error {
	return a.commit(func() error {
		there, err := s.Exists()
		if err != nil {
			return err
		}
		if !there {
			if err := s.CreateWith(ctx, change); store.ClassOf(err) != store.ClassExists {
				return err
			}
		}
		return s.Update(ctx, change)
	})
}

// writePiece puts a new piece into the store: charts, log, plan; and makes it the
// piece that commands are about.
func (a *app) writePiece(tx *store.Tx, p *storedPiece, events []session.Event, parts []partRead) error {
	if err := nameFree(tx, events[0].(*session.CastOn).Name); err != nil {
		return err
	}
	if err := putCharts(tx, parts); err != nil {
		return err
	}
	return a.beginLog(tx, p, events)
}

// beginLog makes a piece with its first events and its plan, and chooses it.
func (a *app) beginLog(tx *store.Tx, p *storedPiece, events []session.Event) error {
	others, err := tx.Pieces()
	if err != nil {
		return err
	}
	id, err := tx.NewPiece(nil)
	if err != nil {
		return err
	}
	p.id, p.State, p.firstEver = id, &session.State{}, len(others) == 0
	if err := a.log(tx, p, events); err != nil {
		return err
	}
	if err := tx.PutCache(planName(p.State), p.Schedule.Bytes()); err != nil {
		return err
	}
	return tx.PutSetting(pieceKey, []byte(p.State.Setup.Name))
}

// putCharts keeps the charts of new parts; those taken from the store are there.
func putCharts(tx *store.Tx, parts []partRead) error {
	for _, part := range parts {
		if part.bytes == nil {
			continue
		}
		if _, err := tx.PutChart(part.bytes); err != nil {
			return err
		}
		if err := keepFile(tx, part); err != nil {
			return err
		}
	}
	return nil
}
