package store

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Change says how a piece differs between the store as it is and another file.
type Change struct {
	UID    UID    `json:"-"`
	Info   []byte `json:"-"` // of the other file when it has the piece, else of the store
	Here   bool   `json:"-"` // the store has the piece
	There  bool   `json:"-"` // the other file has it
	Before uint64 `json:"before"`
	After  uint64 `json:"after"`
}

// Restored is what Restore did, or with DryRun would do.
type Restored struct {
	From    string
	Aside   string   // where the former store is now; empty when there was none
	Changes []Change // pieces that differ; those equal to the last event are left out
	// Unreadable says why the former store could not be compared, when it could not.
	Unreadable string
	Contents   Contents // of the store as restored
	Seen       Seen     // the store as it was compared
}

// Seen is the state of a store at a moment; the zero value is no store.
type Seen struct {
	file   fs.FileInfo
	commit uint64 // of the newest header; 0 when no header can be trusted
}

// RestoreOptions say how to restore.
type RestoreOptions struct {
	DryRun bool
	// Over, when set, is all that may be replaced: a store that came or changed since
	// then is left alone (ClassExists, ClassChanged).
	Over *Seen
}

// Restore puts a verified copy of a backup, or of any other store file, in the place of the store. The
// former store is kept under another name, and at no moment is there none. It waits for the lock like
// any change, and a writer that waits meanwhile finds the new file.
func (s *Store) Restore(ctx context.Context, from string, o RestoreOptions) (r Restored, err error) {
	source := s.other(from)
	r.From = from
	if isLink(s.path) { // the file is replaced and the link stays
		if err := s.found(); err != nil {
			return r, err
		}
		s = s.other(s.realPath())
	}
	if r.Contents, err = source.sound(ctx); err != nil {
		return r, err
	}
	if r.Seen, err = s.seen(); err != nil {
		return r, err
	}
	if err := s.compare(ctx, source, &r); err != nil || o.DryRun {
		return r, err
	}
	if err := makeFolders(filepath.Dir(s.path)); err != nil {
		return r, s.refused("cannot be restored", err)
	}
	err = source.withCopy(ctx, s.path, func(temp string) (err error) {
		r.Aside, err = s.exchange(ctx, temp, o.Over)
		return s.place(err)
	})
	return r, err
}

// seen looks at the store's file and its header. A change between this and a later reading has the
// restore refused, never made unasked.
func (s *Store) seen() (Seen, error) {
	if err := s.found(); err != nil {
		if ClassOf(err) == ClassMissing {
			err = nil
		}
		return Seen{}, err
	}
	file, commit, err := headed(s.path)
	return Seen{file, commit}, s.refused("cannot be opened", err)
}

func (s *Store) unchanged(over *Seen) error {
	if over == nil {
		return nil
	}
	if over.file == nil {
		return s.exists()
	}
	now, err := s.seen()
	if err == nil && (now.commit != over.commit || !os.SameFile(now.file, over.file)) {
		err = problem(ClassChanged, "the store was changed meanwhile, perhaps in another terminal")
	}
	return err
}

// exchange puts a finished file in the store's place, under the store's lock, sound or not.
func (s *Store) exchange(ctx context.Context, temp string, over *Seen) (aside string, err error) {
	if _, err := os.Lstat(s.path); errors.Is(err, fs.ErrNotExist) {
		return "", s.settleAt(temp)
	}
	f, err := untilLocked(ctx, s, true, func(f *os.File) (*os.File, error) { return f, s.unchanged(over) })
	if err != nil {
		return "", err
	}
	defer f.Close()
	aside = s.path + ".aside-" + s.options.Now().Format(backupTime)
	if err := AddName(s.path, aside); err != nil {
		return "", s.refused("cannot be kept under another name", err)
	}
	err = s.refused("cannot be replaced", os.Rename(temp, s.path))
	if err == nil {
		err = s.refused("cannot be replaced for sure", syncFolder(filepath.Dir(s.path)))
	}
	return aside, err
}

type glimpse struct {
	listed
	info []byte
}

func (s *Store) glimpses(ctx context.Context) (all []glimpse, err error) {
	err = s.work(ctx, s.options.Watch, false, func(tx *Tx) error {
		for _, h := range tx.heads() {
			info, err := tx.Info(h.id)
			if err != nil {
				return err
			}
			all = append(all, glimpse{h, info})
		}
		return nil
	})
	return all, err
}

// compare fills in what would change: the pieces of the other file, then those it does not have.
// A store that is missing or damaged is the very reason to restore and no reason to refuse.
func (s *Store) compare(ctx context.Context, source *Store, r *Restored) error {
	there, err := source.glimpses(ctx)
	if err != nil && ClassOf(err) != classOlder {
		return err
	}
	here, err := s.glimpses(ctx)
	switch ClassOf(err) {
	case ClassDamaged, ClassForeign, ClassNewer, classOlder:
		r.Unreadable = err.Error()
	case ClassMissing:
	default:
		if err != nil {
			return err
		}
	}
	for _, g := range append(there, here...) {
		before, isHere := tailOf(here, g.UID)
		after, isThere := tailOf(there, g.UID)
		told := slices.ContainsFunc(r.Changes, func(c Change) bool { return c.UID == g.UID })
		if !told && (isHere != isThere || before != after) {
			r.Changes = append(r.Changes, Change{g.UID, g.info, isHere, isThere, before.Seq, after.Seq})
		}
	}
	return nil
}

func tailOf(all []glimpse, uid UID) (tail Mark, there bool) {
	i := slices.IndexFunc(all, func(g glimpse) bool { return g.UID == uid })
	if i < 0 {
		return Mark{}, false
	}
	return all[i].Tail, true
}
