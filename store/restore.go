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
	UID    UID
	Info   []byte // of the other file when it has the piece, else of the store
	Here   bool   // the store has the piece
	There  bool   // the other file has it
	Before uint64 // events in the store
	After  uint64 // events in the other file
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

// Seen is the state of a store at a moment, by which to tell later whether it is
// still that. The zero value is no store.
type Seen struct {
	file fs.FileInfo
	txid uint64 // of the newest header; 0 when no header can be trusted
}

// RestoreOptions say how to restore.
type RestoreOptions struct {
	DryRun bool
	// Over, when set, is all that may be replaced: a store that came or changed since
	// then is left alone (ClassExists, ClassChanged).
	Over *Seen
}

// Restore puts a backup, or any other store file, in the place of the store. The
// file is verified, copied, and the copy verified, before anything is touched; the
// former store is kept under another name, and at no moment is there none. It
// waits for the lock like any change, so no step that was acknowledged before is
// cut in two, and a writer that waits meanwhile finds the new file.
func (s *Store) Restore(ctx context.Context, from string, o RestoreOptions) (Restored, error) {
	source := s.other(from)
	r := Restored{From: from}
	s, err := s.behindLink()
	if err != nil {
		return r, err
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
	temp, err := source.copyAside(ctx, s.path)
	if err != nil {
		return r, err
	}
	defer os.Remove(temp)
	r.Aside, err = s.exchange(ctx, temp, o.Over)
	return r, err
}

// behindLink is the store under the path that a symbolic link at its path leads to, so that
// the file is replaced and the link stays. A link that leads nowhere is refused.
func (s *Store) behindLink() (*Store, error) {
	info, err := os.Lstat(s.path)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		return s, nil // what else is wrong there is found later
	}
	if _, err := s.stat(); err != nil {
		return nil, s.place(err)
	}
	return s.other(s.realPath()), nil
}

// seen looks at the store's file and its header. Where a change comes between this and
// a later reading, the later one shows more than was seen here: the restore is then
// refused, never made unasked.
func (s *Store) seen() (Seen, error) {
	if _, err := s.stat(); err != nil {
		if ClassOf(err) == ClassMissing {
			err = nil
		}
		return Seen{}, err
	}
	f, err := os.Open(s.path)
	if err != nil {
		return Seen{}, s.refusedOpen(err)
	}
	defer f.Close()
	return seenIn(f)
}

// seenIn is seen for an open file.
func seenIn(f *os.File) (Seen, error) {
	info, err := f.Stat()
	if err != nil {
		return Seen{}, err
	}
	h, err := readHeaders(f, info.Size(), false)
	if err != nil {
		return Seen{file: info}, nil // past writing, so past changing
	}
	return Seen{file: info, txid: h.txid}, nil
}

// unchanged refuses a store that is not as it was seen.
func (s *Store) unchanged(f *os.File, over *Seen) error {
	if over == nil {
		return nil
	}
	if over.file == nil {
		return s.exists()
	}
	now, err := seenIn(f)
	if err == nil && (now.txid != over.txid || !os.SameFile(now.file, over.file)) {
		err = &Error{Class: ClassChanged, What: "the store was changed meanwhile, perhaps in another terminal", Next: "the same command again, which compares anew"}
	}
	return err
}

// exchange puts a finished file in the store's place, under the store's lock.
func (s *Store) exchange(ctx context.Context, temp string, over *Seen) (aside string, err error) {
	if _, err := os.Lstat(s.path); errors.Is(err, fs.ErrNotExist) {
		return "", s.settleAt(temp, s.path)
	}
	f, err := s.lockFile(ctx)
	if err != nil {
		return "", s.place(err)
	}
	defer f.Close()
	if err := s.unchanged(f, over); err != nil {
		return "", s.place(err)
	}
	aside = s.path + ".aside-" + s.options.Now().Format(backupTime)
	if err := keepAside(s.path, aside); err != nil {
		return "", s.refused("cannot be kept under another name", err)
	}
	if err := os.Rename(temp, s.path); err != nil {
		return aside, s.refused("cannot be replaced", err)
	}
	if err := syncFolder(filepath.Dir(s.path)); err != nil {
		return aside, s.refused("cannot be replaced for sure", err)
	}
	return aside, nil
}

// keepAside gives the file a second name; where links are unknown it is renamed.
func keepAside(path, aside string) error {
	err := os.Link(path, aside)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	return os.Rename(path, aside)
}

// lockFile opens the store's file, sound or not, and waits for its lock.
func (s *Store) lockFile(ctx context.Context) (*os.File, error) {
	return untilLocked(ctx, s, s.tryLockFile)
}

// tryLockFile makes one try.
func (s *Store) tryLockFile() (*os.File, error) {
	if _, err := s.stat(); err != nil {
		return nil, err
	}
	f, err := lockedFile(s.path, os.O_RDWR, true)
	if err != nil {
		return nil, s.refusedOpen(err)
	}
	return f, nil
}

// glimpse is what a comparison needs of a piece.
type glimpse struct {
	tail Mark
	info []byte
}

// glimpses finds the pieces of a store by UID, and their order.
func (s *Store) glimpses(ctx context.Context) (map[UID]glimpse, []UID, error) {
	all, order := map[UID]glimpse{}, []UID(nil)
	err := s.view(ctx, s.options.Watch, func(tx *Tx) error {
		for _, h := range tx.heads() {
			info, err := tx.Info(h.id)
			if err != nil {
				return err
			}
			all[h.uid] = glimpse{h.tail, slices.Clone(info)}
			order = append(order, h.uid)
		}
		return nil
	})
	return all, order, err
}

// compare fills in what would change. A store that is missing or damaged is the
// very reason to restore and no reason to refuse.
func (s *Store) compare(ctx context.Context, source *Store, r *Restored) error {
	there, order, err := source.glimpses(ctx)
	if err != nil && !isOlder(err) {
		return err
	}
	here, more, err := s.glimpses(ctx)
	switch {
	case err == nil || ClassOf(err) == ClassMissing:
	case ClassOf(err) == ClassDamaged || ClassOf(err) == ClassForeign || ClassOf(err) == ClassNewer || isOlder(err):
		r.Unreadable = err.Error()
	default:
		return err
	}
	for _, uid := range more {
		if _, both := there[uid]; !both {
			order = append(order, uid)
		}
	}
	for _, uid := range order {
		a, inA := here[uid]
		b, inB := there[uid]
		if inA && inB && a.tail == b.tail {
			continue
		}
		c := Change{UID: uid, Info: b.info, Here: inA, There: inB, Before: a.tail.Seq, After: b.tail.Seq}
		if !inB {
			c.Info = a.info
		}
		r.Changes = append(r.Changes, c)
	}
	return nil
}
