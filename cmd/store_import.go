package cmd

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"strandwise/cmd/answer"
	"strandwise/cmd/frame"
	"strandwise/cmd/stored"
	"strandwise/session"
	"strandwise/store"
)

type importOptions struct {
	dry   bool
	apart bool

	were  map[store.PieceID]string // names of the pieces here, before
	names map[store.PieceID]string // of those taken in beside their like
}

func newStoreImport(a *frame.App) *cobra.Command {
	o := &importOptions{}
	c := a.Leaf(frame.Spec{Use: "import FILE", Writes: true, JSON: true}, o.run)
	c.Flags().BoolVar(&o.dry, "dry-run", false, "say what would come in and write nothing")
	c.Flags().BoolVar(&o.apart, "apart", false, "take in a piece in conflict as a piece of its own")
	return c
}

func (o *importOptions) run(a *frame.App, args []string) error {
	data, title, err := a.ReadInput(args[0])
	if err != nil {
		return err
	}
	from, err := store.ReadParcel(data, title)
	if err == nil {
		err = stored.Examine(from)
	}
	if err != nil {
		return err
	}
	s, err := stored.Store(a)
	if err != nil {
		return err
	}
	take := func(dry bool) (done store.Imported, err error) {
		settle := func(tx *store.Tx, done store.Imported) error { return o.settle(a, tx, done) }
		done, err = s.Import(a.Context(), from, store.ImportOptions{KeepApart: o.apart, DryRun: dry, Settle: settle})
		return done, explained(a, s, err, args[0])
	}
	plan, err := take(true)
	if err != nil {
		return err
	}
	if o.dry || !plan.Changes() {
		return a.Answer(1, answer.NewImported(plan, nil, o.dry))
	}
	a.WarnBefore(answer.NewImported(plan, nil, true).Warning())
	if err := a.Confirm("read in " + title); err != nil {
		return err
	}
	done, err := committed(a, func() (store.Imported, error) {
		done, err := take(false)
		if store.ClassOf(err) == store.ClassExists {
			done, err = take(false) // another process made the store meanwhile: into that one
		}
		return done, err
	})
	if err != nil {
		return err
	}
	if done.BackupFault != nil {
		a.Notice("no backup could be made before: %v", done.BackupFault)
	}
	return a.Answer(1, answer.NewImported(done, o.names, false))
}

// settle keeps names apart. Before anything is written it notes what the pieces here are called. At the end of
// the import the choice follows a piece that has another name now, and pieces kept apart get names of their own.
func (o *importOptions) settle(a *frame.App, tx *store.Tx, done store.Imported) error {
	here, err := stored.List(tx)
	if err == nil {
		err = sameNames(here, done)
	}
	if !tx.Writable() {
		o.were = namesOf(here)
		return err
	}
	o.names = map[store.PieceID]string{}
	for _, p := range done.Pieces {
		if err != nil {
			return err
		}
		switch was, now := o.were[p.ID], stored.InfoName(p.Info); {
		case p.Fate == store.FateLonger && was != now:
			err = stored.Rechoose(tx, was, now)
		case p.Fate == store.FateApart:
			o.names[p.ID], err = renameApart(a, tx, here, p.ID)
		}
	}
	return err
}

func namesOf(pieces []stored.Listed) map[store.PieceID]string {
	names := map[store.PieceID]string{}
	for _, p := range pieces {
		names[p.ID] = p.Name
	}
	return names
}

// sameNames refuses pieces that have, new or renamed, the name of another here.
func sameNames(here []stored.Listed, done store.Imported) error {
	names := namesOf(here)
	for _, p := range done.Pieces {
		if p.Fate == store.FateLonger && names[p.ID] != "" {
			names[p.ID] = cmp.Or(stored.InfoName(p.Info), names[p.ID])
		}
	}
	for _, p := range done.Pieces {
		name := stored.InfoName(p.Info)
		for id, other := range names {
			if (p.Fate == store.FateNew || p.Fate == store.FateLonger) && id != p.ID && other == name {
				return frame.Refused("there is another piece named %s here", name).
					Hint("strandwise pieces rename, to give the one here another name, then import again")
			}
		}
	}
	return nil
}

func explained(a *frame.App, s *store.Store, err error, file string) error {
	e, ok := errors.AsType[*store.Error](err)
	if !ok || e.Class != store.ClassConflict {
		return err
	}
	name := fmt.Sprintf("piece %d", e.Piece)
	_ = s.View(a.Context(), func(tx *store.Tx) error {
		name = stored.NameOf(tx, e.Piece)
		return nil
	})
	return frame.Refused("%s: %s went on differently there from event %d on: %s", e.Path, name, e.Seq, e.What).Because(err).
		Hint("strandwise store import %s --apart, which takes it in beside the one here", frame.InShell(file))
}

// renameApart gives a piece the lowest number from 2 behind its name that makes it one no other has.
func renameApart(a *frame.App, tx *store.Tx, here []stored.Listed, id store.PieceID) (name string, err error) {
	state, err := stored.FoldLog(tx, id)
	if err != nil {
		return "", err
	}
	taken := func(p stored.Listed) bool { return p.Name == name }
	for n := 2; name == "" || slices.ContainsFunc(here, taken); n++ {
		name = fmt.Sprintf("%s %d", state.Setup.Name, n)
	}
	p := &stored.Piece{Piece: &session.Piece{State: state}, ID: id}
	return name, stored.Log(a, tx, p, []session.Event{&session.Renamed{Name: name}})
}

// committed makes a change of the store, and gives what came of it.
func committed[T any](a *frame.App, change func() (T, error)) (done T, err error) {
	err = a.Commit(func() error {
		done, err = change()
		return err
	})
	return done, err
}
