package cmd

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"strandwise/session"
	"strandwise/store"
)

// storedPiece is a piece taken from the store: its number there, its log folded, laid out
// and planned.
type storedPiece struct {
	*session.Piece
	id        store.PieceID
	firstEver bool           // it was cast on just now, as the first piece of its store
	first     *session.Piece // of a pair, where this is the second and the first is at hand
}

// currentPiece names the piece the commands are about; empty when none was chosen.
func (a *app) currentPiece() (string, error) {
	v, err := a.settings.get(pieceKey)
	return v.text, err
}

// current opens the current piece, whichever the settings in the same state of the
// store say it is.
func (a *app) current(tx *store.Tx) (*storedPiece, error) {
	name, err := a.currentPiece()
	if err != nil {
		return nil, err
	}
	return open(tx, name)
}

// take reads the current piece. Nothing is written: a plan that is not kept yet is
// made for this run only.
func (a *app) take(ctx context.Context) (*storedPiece, error) {
	return a.takeAnd(ctx, func(*store.Tx, *storedPiece) error { return nil })
}

// takeWhole is take for a command that tells of all that was logged, also under plans
// that no longer hold.
func (a *app) takeWhole(ctx context.Context) (*storedPiece, error) {
	return a.takeAnd(ctx, func(tx *store.Tx, p *storedPiece) error {
		p.Remember(storedCharts(tx))
		return nil
	})
}

// takeAnd reads the current piece and looks into the same state of the store.
func (a *app) takeAnd(ctx context.Context, look func(*store.Tx, *storedPiece) error) (*storedPiece, error) {
	s, err := a.openStore()
	if err != nil {
		return nil, err
	}
	var p *storedPiece
	err = s.View(ctx, func(tx *store.Tx) error {
		if p, err = a.current(tx); err != nil {
			return err
		}
		return look(tx, p)
	})
	if err != nil {
		return nil, err
	}
	return p, a.plan(ctx, p)
}

// change logs what decide makes of the current piece, all in one transaction:
// fold, decide, check, append. It returns the piece as it is afterwards. A plan that
// is not kept yet is made before, while the store is free.
func (a *app) change(ctx context.Context, decide func(*storedPiece) ([]session.Event, error)) (*storedPiece, error) {
	s, err := a.openStore()
	if err != nil {
		return nil, err
	}
	var p *storedPiece
	try := func(plan *session.Schedule) error {
		return a.commit(func() error {
			return s.Update(ctx, func(tx *store.Tx) error {
				p, err = a.append(tx, plan, decide)
				return err
			})
		})
	}
	err = try(nil)
	if needed := (*unplanned)(nil); errors.As(err, &needed) {
		if err = a.plan(ctx, needed.piece); err == nil {
			err = try(needed.piece.Schedule)
		}
	}
	if err != nil {
		return nil, err
	}
	a.daily(ctx, s)
	if p.Schedule == nil {
		err = a.planAndKeep(ctx, s, p)
	}
	return p, err
}

// unplanned tells that a piece has no plan in the store.
type unplanned struct{ piece *storedPiece }

func (e *unplanned) Error() string { return "the plan of the piece is not made yet" }

func (a *app) append(tx *store.Tx, plan *session.Schedule, decide func(*storedPiece) ([]session.Event, error)) (*storedPiece, error) {
	p, err := a.current(tx)
	if err != nil {
		return nil, err
	}
	if p.Schedule == nil {
		if plan == nil {
			return nil, &unplanned{p.unpaired()}
		}
		p.Schedule = plan
		if err := tx.PutCache(planName(p.State), plan.Bytes()); err != nil {
			return nil, err
		}
		p.followFirst()
	}
	events, err := decide(p)
	if err != nil {
		return nil, err
	}
	name := p.State.Setup.Name
	if err := a.log(tx, p, events); err != nil {
		return nil, err
	}
	if err := renamed(tx, p, name); err != nil {
		return nil, err
	}
	return reopen(tx, p)
}

// log appends the events of one command, each checked against the state the one before
// leaves. Several of them are undone as one.
func (a *app) log(tx *store.Tx, p *storedPiece, events []session.Event) error {
	if len(events) > 1 && p.State.Total() > 0 { // a cast-on cannot be undone
		events = slices.Insert(slices.Clone(events), 0, session.Event(&session.Together{Events: len(events)}))
	}
	records := p.State.Records()
	for _, e := range events {
		kind, payload := session.Encode(e)
		at := a.env.Now()
		seq, err := tx.Append(p.id, store.Record{Kind: kind, Time: at, Payload: payload})
		if err != nil {
			return err
		}
		records = append(records, session.Record{Seq: seq, Kind: kind, At: at, Payload: payload})
	}
	state, err := session.Fold(records)
	if refused := (*session.EventError)(nil); errors.As(err, &refused) && refused.Seq > p.State.LastSeq {
		return refused.Err
	}
	if err != nil {
		return err
	}
	p.State = state
	return keepInfo(tx, p.id, p.State)
}

// reopen is a piece after its log grew.
func reopen(tx *store.Tx, p *storedPiece) (*storedPiece, error) {
	q := &storedPiece{Piece: &session.Piece{State: p.State}, id: p.id, first: p.first}
	err := lay(tx, q)
	q.followFirst()
	return q, err
}

// daily makes the day's backup after a step; a failure is only told. Damage that the
// step itself had no need to look at is found here, and so on every day that the piece
// is worked on.
func (a *app) daily(ctx context.Context, s *store.Store) {
	_, err := s.DailyBackup(ctx)
	if err == nil {
		return
	}
	p := describe(err)
	fmt.Fprintf(a.err, "strandwise: the step is saved, but today's backup could not be made: %s\n", p.what)
	if store.ClassOf(err) == store.ClassDamaged {
		fmt.Fprintln(a.err, "  try: strandwise store check, which names all damage")
	}
	for _, hint := range p.hints {
		fmt.Fprintf(a.err, "  try: %s\n", hint)
	}
}

// round reports whether the piece is worked in the round.
func (p *storedPiece) round() bool { return !p.State.Setup.Flat }

// rowWord is what a row of the piece is called.
func (p *storedPiece) rowWord() string { return session.RowWord(p.round()) }

// changeStore makes a change that is no event of a piece, in one transaction.
func (a *app) changeStore(ctx context.Context, change func(tx *store.Tx) error) error {
	s, err := a.openStore()
	if err != nil {
		return err
	}
	if err := a.commit(func() error { return s.Update(ctx, change) }); err != nil {
		return err
	}
	a.daily(ctx, s)
	return nil
}
