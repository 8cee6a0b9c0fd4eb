package cmd

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"

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
}

func newStoreImport(a *frame.App) *cobra.Command {
	o := &importOptions{}
	c := a.Leaf(frame.Spec{Use: "import FILE", Least: 1, Most: 1, Writes: true, JSON: true}, o.run)
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
	i := &importing{a: a, s: s, from: from, options: store.ImportOptions{KeepApart: o.apart}}
	plan, err := i.plan()
	if err != nil {
		return i.explained(err, args[0])
	}
	if o.dry || !plan.Changes() {
		return a.Answer(1, answer.NewImported(plan, nil, o.dry))
	}
	a.WarnBefore(answer.NewImported(plan, nil, true).Warning())
	if err := a.Confirm("read in " + title); err != nil {
		return err
	}
	done, names, err := i.do()
	if err != nil {
		return i.explained(err, args[0])
	}
	if done.BackupFault != nil {
		a.Notice("no backup could be made before: %v", done.BackupFault)
	}
	return a.Answer(1, answer.NewImported(done, names, false))
}

// importing is one import under way.
type importing struct {
	a       *frame.App
	s       *store.Store
	from    *store.Parcel
	options store.ImportOptions
	were    map[store.PieceID]string // names of the pieces here, before
}

// plan finds out what would be done. Where there is no store yet it asks an empty
// one in the folder for temporary files.
func (i *importing) plan() (plan store.Imported, err error) {
	err = i.onStore(func(s *store.Store, _ bool) error {
		o := i.options
		o.DryRun = true
		if plan, err = s.Import(i.a.Context(), i.from, o); err != nil {
			return err
		}
		return s.View(i.a.Context(), func(tx *store.Tx) error { return i.look(tx, plan) })
	})
	return plan, err
}

// do imports. Where another process makes the store meanwhile, the import goes into
// that one.
func (i *importing) do() (done store.Imported, names map[store.PieceID]string, err error) {
	if done, names, err = i.try(); store.ClassOf(err) != store.ClassExists {
		return done, names, err
	}
	if done, err = i.plan(); err != nil {
		return done, nil, err
	}
	return i.try()
}

// try imports once. A store that is not there yet is made elsewhere and put in its
// place whole.
func (i *importing) try() (done store.Imported, names map[store.PieceID]string, err error) {
	err = i.onStore(func(s *store.Store, stand bool) error {
		o := i.options
		o.Settle = func(tx *store.Tx, done store.Imported) error {
			names, err = i.settle(tx, done)
			return err
		}
		work := func() error {
			if done, err = s.Import(i.a.Context(), i.from, o); err != nil || !stand {
				return err
			}
			done.Backup, done.BackupFault = "", nil // of the empty one
			_, err = i.s.Restore(i.a.Context(), s.Path(), store.RestoreOptions{Over: &store.Seen{}})
			return err
		}
		return i.a.Commit(work)
	})
	return done, names, err
}

// standFolder begins the name of the folder in which a store stands in for one to come.
const standFolder = "strandwise-import-"

// onStore does work on the store, or on an empty one that stands in for it where
// there is none.
func (i *importing) onStore(work func(s *store.Store, stand bool) error) error {
	there, err := i.s.Exists()
	if err != nil {
		return err
	}
	if there {
		return work(i.s, false)
	}
	frame.Sweep(filepath.Join(frame.QuoteGlob(os.TempDir()), standFolder+"*"))
	folder, err := os.MkdirTemp("", standFolder)
	if err != nil {
		return frame.Unusable("no folder for temporary files: %v", frame.Reason(err)).Because(err).Hint("set TMPDIR to a folder that can be written to")
	}
	remove := i.a.AtEnd(func() { _ = os.RemoveAll(folder) })
	defer remove()
	stand := i.a.StoreAt(filepath.Join(folder, frame.StoreFile))
	if err := stand.Create(i.a.Context()); err != nil {
		return err
	}
	return work(stand, true)
}

// look notes what the pieces here are called, and refuses what would come to share a
// name.
func (i *importing) look(tx *store.Tx, plan store.Imported) error {
	here, err := stored.List(tx)
	if err != nil {
		return err
	}
	i.were = map[store.PieceID]string{}
	for _, p := range here {
		i.were[p.ID] = p.Name
	}
	return sameNames(here, plan)
}

// settle ends an import in its own transaction: names are still apart, pieces kept apart
// get one of their own, and the choice follows a piece that has another name now.
func (i *importing) settle(tx *store.Tx, done store.Imported) (map[store.PieceID]string, error) {
	here, err := stored.List(tx)
	if err != nil {
		return nil, err
	}
	if err := sameNames(here, done); err != nil {
		return nil, err
	}
	for _, p := range done.Pieces {
		was, now := i.were[p.ID], stored.InfoName(p.Info)
		if p.Fate == store.FateLonger && was != now {
			if err := stored.Rechoose(tx, was, now); err != nil {
				return nil, err
			}
		}
	}
	return renameApart(i.a, tx, done)
}

// sameNames refuses pieces that have, new or renamed, the name of another here: by name
// they could not be told apart.
func sameNames(here []stored.Listed, done store.Imported) error {
	renamed := map[store.PieceID]string{}
	for _, p := range done.Pieces {
		if p.Fate == store.FateLonger {
			renamed[p.ID] = stored.InfoName(p.Info)
		}
	}
	for _, p := range done.Pieces {
		if p.Fate != store.FateNew && p.Fate != store.FateLonger {
			continue
		}
		for _, other := range here {
			if name := stored.InfoName(p.Info); other.ID != p.ID && cmp.Or(renamed[other.ID], other.Name) == name {
				return frame.Refused("there is another piece named %s here", name).
					Hint("strandwise pieces rename, to give the one here another name, then import again")
			}
		}
	}
	return nil
}

// explained adds to a conflict what to do about it with this command.
func (i *importing) explained(err error, file string) error {
	var e *store.Error
	if !errors.As(err, &e) || e.Class != store.ClassConflict {
		return err
	}
	name := i.nameHere(e.Piece)
	return frame.Refused("%s: %s went on differently there from event %d on: %s", e.Path, name, e.Seq, e.What).Because(err).
		Hint("strandwise store import %s --apart, which takes it in beside the one here", file)
}

func (i *importing) nameHere(id store.PieceID) string {
	name := fmt.Sprintf("piece %d", id)
	_ = i.s.View(i.a.Context(), func(tx *store.Tx) error {
		name = stored.NameOf(tx, id)
		return nil
	})
	return name
}

// renameApart gives pieces that were taken in beside their like a name of their own,
// as an event of their log.
func renameApart(a *frame.App, tx *store.Tx, done store.Imported) (map[store.PieceID]string, error) {
	names := map[store.PieceID]string{}
	for _, p := range done.Pieces {
		if p.Fate != store.FateApart {
			continue
		}
		name, err := renameOne(a, tx, p.ID)
		if err != nil {
			return nil, err
		}
		names[p.ID] = name
	}
	return names, nil
}

func renameOne(a *frame.App, tx *store.Tx, id store.PieceID) (string, error) {
	state, err := stored.FoldLog(tx, id)
	if err != nil {
		return "", err
	}
	here, err := stored.List(tx)
	if err != nil {
		return "", err
	}
	name := freeName(here, state.Setup.Name)
	p := &stored.Piece{Piece: &session.Piece{State: state}, ID: id}
	return name, stored.Log(a, tx, p, []session.Event{&session.Renamed{Name: name}})
}

// freeName is the name followed by the lowest number from 2 that makes it one no
// piece has.
func freeName(here []stored.Listed, name string) string {
	for n := 2; ; n++ {
		if other := fmt.Sprintf("%s %d", name, n); !stored.NameTaken(here, other) {
			return other
		}
	}
}
