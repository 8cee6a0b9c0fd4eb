package stored

import (
	"encoding/hex"
	"runtime/debug"

	"strandwise/cmd/frame"
	"strandwise/floats"
	"strandwise/session"
	"strandwise/store"
)

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
	key := s.PlanKey()
	return []byte("plan " + hex.EncodeToString(key[:]))
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
