package store

import (
	"context"
	"errors"
	"fmt"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
)

// verifyLimit bounds a reading of the whole file, which may be far longer than a step.
const verifyLimit = 2 * time.Minute

func (s *Store) work(ctx context.Context, limit time.Duration, write bool, fn func(*Tx) error) error {
	return s.transact(ctx, limit, write, func(tx *Tx) error { return tx.call(fn) })
}

// transact opens, runs fn in one transaction, commits what it changed, and closes, in the time given.
func (s *Store) transact(ctx context.Context, limit time.Duration, write bool, fn func(*Tx) error) error {
	return s.place(guarded(ctx, limit, func(g *guard) error {
		o, err := s.open(g.ctx, write)
		if err != nil {
			return err
		}
		clean := false
		defer func() { o.release(clean) }()
		btx, err := o.db.Begin(write)
		if err != nil {
			return damaged("the store cannot be used").because(err)
		}
		tx := &Tx{store: s, btx: btx, file: o, survey: surveyed(o.file, o.headers)}
		if err = fn(tx); err == nil && tx.changed {
			err = tx.flush()
		}
		if err == nil && !g.settle() {
			err = context.Canceled
		}
		if err != nil || !tx.changed {
			clean = btx.Rollback() == nil
			return err
		}
		if err = commit(btx); err != nil {
			return o.commitFailed(err)
		}
		clean = true
		s.sweep()
		return nil
	}))
}

// errStumbled is the error of a commit in which bbolt found its own pages at odds.
var errStumbled = errors.New("its pages contradict each other")

// commit commits. A panic in it leaves as much unknown as an error does.
func commit(btx *bbolt.Tx) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("%w: %v", errStumbled, fault)
		}
	}()
	return btx.Commit()
}

// commitFailed tells a commit that cannot have reached the disk from one that may
// have. Only want of space and pages that contradict each other are told apart, and only
// when the header on disk is still the old one; after a failed sync nothing is sure.
func (o *locked) commitFailed(err error) error {
	now, unread := readHeaders(o.file, false)
	unchanged := unread == nil && now.Commit == o.Commit
	reason := bare(err)
	switch {
	case unchanged && errors.Is(err, errStumbled):
		return damaged("the change cannot be written: its pages contradict each other").because(err)
	case unchanged && (reason == syscall.ENOSPC || reason == syscall.EDQUOT || reason == syscall.EFBIG):
		return problem(ClassUnusable, "the store cannot grow").giving(reason).next("make room on the disk and do it again")
	}
	return problem(ClassUnknown, "the disk reported a fault while saving: the change may or may not be saved").giving(err)
}
