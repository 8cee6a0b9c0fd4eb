// Package stored takes pieces from the store of a run and puts them back: a Piece is a
// session.Piece with its number there. In come the run (frame.App) and what a command
// decided; out come pieces, folded, laid out and planned, or events in the store.
//
// Take reads the current piece; Change logs events on it, folded, decided and appended
// in one transaction; CastOn begins one. Plans are made outside every transaction and
// kept in the cache of the store. The rest looks at all pieces: names and the list of
// them, what makes a pair, the check of every log (Check), of an export (Examine), and
// what a salvage left (Rejoin).
package stored

import (
	"cmp"
	"errors"
	"fmt"
	"runtime/debug"
	"slices"

	"strandwise/cmd/frame"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/store"
)

// Piece is a piece taken from the store, with its number there.
type Piece struct {
	*session.Piece
	ID        store.PieceID
	FirstEver bool           // it was cast on just now, as the first piece of its store
	First     *session.Piece // of a pair, where this is the second and the first is at hand
}

// Current opens the piece the settings of the same state name; in a sitting the one it began with.
func Current(a *frame.App, tx *store.Tx) (*Piece, error) {
	switch id := store.PieceID(a.Sitting); {
	case id == 0:
		return Open(tx, a.Settings.Get(frame.PieceKey).Text, "--piece %s")
	case !slices.Contains(tx.Pieces(), id):
		return nil, frame.Refused("the piece of this sitting was removed").Hint("strandwise pieces, which lists those there are")
	default:
		return openNumbered(tx, id)
	}
}

// Take reads the current piece and writes nothing: a plan that is not kept is made for this run only.
func Take(a *frame.App) (*Piece, error) {
	return takeAnd(a, func(*store.Tx, *Piece) {})
}

// TakeWhole is Take for what tells of all that was logged, also under plans that no longer hold.
func TakeWhole(a *frame.App) (*Piece, error) {
	return takeAnd(a, func(tx *store.Tx, p *Piece) { p.Remember(storedCharts(tx.Chart)) })
}

func takeAnd(a *frame.App, read func(*store.Tx, *Piece)) (*Piece, error) {
	var found *Piece // read only once the work is done: one that is interrupted may still go on
	err := View(a, func(tx *store.Tx) error {
		p, err := Current(a, tx)
		if err == nil {
			read(tx, p)
			found = p
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	return found, Plan(a, found)
}

// Change logs what decide makes of the current piece, all in one transaction:
// fold, decide, check, append. It returns the piece as it is afterwards. A plan that
// is not kept yet is made before, while the store is free; another terminal may then be first
// to log what needs another one.
func Change(a *frame.App, decide func(*Piece) ([]session.Event, error)) (*Piece, error) {
	s, err := Store(a)
	if err != nil {
		return nil, err
	}
	p, err := change(a, s, decide)
	for tries := 1; errors.Is(err, errUnplanned) && tries < 3; tries++ {
		if err := planAndKeep(a, s, p); err != nil {
			return nil, err
		}
		p, err = change(a, s, decide)
	}
	if err != nil {
		return nil, err
	}
	daily(a, s)
	if p.Schedule == nil {
		err = planAndKeep(a, s, p)
	}
	return p, err
}

// change is one try of Change. Where the run is interrupted the work may still go on, so what it finds is read
// only when it is done.
func change(a *frame.App, s *store.Store, decide func(*Piece) ([]session.Event, error)) (*Piece, error) {
	var found *Piece
	err := a.Commit(func() error {
		return s.Update(a.Context(), func(tx *store.Tx) (err error) {
			found, err = logDecided(a, tx, decide)
			return err
		})
	})
	if err != nil && !errors.Is(err, errUnplanned) {
		return nil, err
	}
	return found, err
}

// ChangeIf is Change where a change is asked for, else Take.
func ChangeIf(a *frame.App, asked bool, decide func(*Piece) ([]session.Event, error)) (*Piece, error) {
	if a.Writes.Store(asked); !asked {
		return Take(a)
	}
	return Change(a, decide)
}

var errUnplanned = errors.New("the plan of the piece is not made yet")

func logDecided(a *frame.App, tx *store.Tx, decide func(*Piece) ([]session.Event, error)) (*Piece, error) {
	p, err := Current(a, tx)
	if err != nil {
		return nil, err
	}
	if p.Schedule == nil {
		return p, errUnplanned
	}
	events, err := decide(p)
	if err != nil {
		return nil, err
	}
	if err := Log(a, tx, p, events); err != nil {
		return nil, err
	}
	if len(tx.Pieces()) > 1 {
		a.SayOf(p.State.Setup.Name)
	}
	after, err := Reopen(tx, p)
	switch events[0].(type) {
	case *session.Undone, *session.Redone: // what comes out may be of a plan that is not in force now
		if err == nil {
			after.Remember(storedCharts(tx.Chart))
		}
	}
	return after, err
}

// Log appends the events of one command, each checked against the state the one before
// leaves. Several of them are undone as one.
func Log(a *frame.App, tx *store.Tx, p *Piece, events []session.Event) error {
	if err := p.State.Check(events[0]); err != nil { // what is invalid need not be readable once it is encoded
		return err
	}
	_, undoing := events[0].(*session.Undone)               // each takes its own step back
	if len(events) > 1 && p.State.Total() > 0 && !undoing { // a cast-on cannot be undone
		events = slices.Insert(slices.Clone(events), 0, session.Event(&session.Together{Events: len(events)}))
	}
	for _, e := range events {
		kind, payload := session.Encode(e)
		if _, err := tx.Append(p.ID, store.Record{Kind: kind, Time: a.Env.Now(), Payload: payload}); err != nil {
			return err
		}
	}
	state, err := FoldLog(tx, p.ID)
	if err != nil {
		if refused := (*session.EventError)(nil); errors.As(err, &refused) && refused.Seq > p.State.LastSeq {
			return refused.Err
		}
		return err
	}
	was := p.State.Setup.Name
	p.State = state
	return cmp.Or(settleName(tx, p, was), KeepInfo(tx, p.ID, state))
}

// Reopen is a piece after its log grew.
func Reopen(tx *store.Tx, p *Piece) (*Piece, error) {
	q := &Piece{Piece: &session.Piece{State: p.State}, ID: p.ID, First: p.First}
	err := lay(tx, q)
	q.followFirst()
	return q, err
}

// daily only tells that a backup failed. Damage that the step had no need to look at is found here, and
// so on every day that the piece is worked on.
func daily(a *frame.App, s *store.Store) {
	err := s.DailyBackup(a.Context())
	if err == nil {
		return
	}
	p := frame.Describe(err)
	fmt.Fprintf(a.Err, "strandwise: the step is saved, but today's backup could not be made: %s\n", p.What)
	if store.ClassOf(err) == store.ClassDamaged {
		a.Try("strandwise store check, which names all damage")
	}
	a.Try(p.Hints...)
}

// Round reports whether the piece is worked in the round.
func (p *Piece) Round() bool { return !p.State.Setup.Flat }

// RowWord is what a row of the piece is called.
func (p *Piece) RowWord() string { return session.RowWord(p.Round()) }

// ChangeStore makes a change that is no event of a piece, in one transaction.
func ChangeStore(a *frame.App, change func(tx *store.Tx) error) error {
	s, err := Store(a)
	if err != nil {
		return err
	}
	if err := a.Commit(func() error { return s.Update(a.Context(), change) }); err != nil {
		return err
	}
	daily(a, s)
	return nil
}

// A plan is made outside every transaction, since that may take a while, and kept in the
// cache of the store under the digest of all it was made from.

// Plan makes the plan of a piece that has none.
func Plan(a *frame.App, p *Piece) error {
	if p.Schedule != nil {
		return nil
	}
	_, err := p.plan(a)
	return err
}

// planAndKeep keeps the plan for the commands that follow; one that cannot be kept is made again.
func planAndKeep(a *frame.App, s *store.Store, p *Piece) error {
	kept, err := p.plan(a)
	if err == nil {
		_ = s.Update(a.Context(), func(tx *store.Tx) error { return tx.PutCache(planName(p.State), kept) })
	}
	return err
}

// plan returns the plan as it is kept: before it follows the first of a pair, which may still grow.
func (p *Piece) plan(a *frame.App) (kept []byte, err error) {
	plan, err := Planned(a, p.Layout.Fabric, p.State.Task())
	if err != nil {
		return nil, err
	}
	p.Schedule = session.NewSchedule(plan, p.Rows())
	kept = p.Schedule.Bytes()
	p.followFirst()
	return kept, nil
}

// planName names in the cache the plan of a piece as its log stands.
func planName(s *session.State) []byte {
	return fmt.Appendf(nil, "plan %x", s.PlanKey())
}

// planMemory is what the program is to get by with while a plan is made, in bytes: from
// there on the collector works harder, before the heap doubles once more.
const planMemory = 160 << 20

// Planned makes a plan, counting on stderr when it takes long.
func Planned(a *frame.App, f *floats.Fabric, task floats.Task) (*floats.Plan, error) {
	progress := a.StartProgress("parts of the plan")
	defer progress.End()
	task.Progress = progress.Step
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(planMemory))
	return floats.MakePlan(a.Context(), f, task)
}
