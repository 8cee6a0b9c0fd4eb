package store

import (
	"context"
	"errors"
	"fmt"
	"syscall"

	"go.etcd.io/bbolt"
)

// read opens for reading, runs fn in one transaction and closes.
func (s *Store) read(ctx context.Context, fn func(*Tx) error) error {
	o, err := s.open(ctx, false)
	if err != nil {
		return err
	}
	clean := false
	defer func() { o.release(clean) }()
	btx, err := o.db.Begin(false)
	if err != nil {
		return damaged("the store cannot be read").because(err)
	}
	err = fn(s.newTx(o, btx))
	clean = btx.Rollback() == nil
	return err
}

// write opens for writing, runs fn in one transaction, commits what it changed,
// and closes.
func (s *Store) write(g *guard, fn func(*Tx) error) error {
	o, err := s.open(g.ctx, true)
	if err != nil {
		return err
	}
	clean := false
	defer func() { o.release(clean) }()
	btx, err := o.db.Begin(true)
	if err != nil {
		return damaged("the store cannot be changed").because(err)
	}
	tx := s.newTx(o, btx)
	err = fn(tx)
	if err == nil && !g.settle() {
		err = context.Canceled
	}
	if err != nil || !tx.changed {
		clean = btx.Rollback() == nil
		return err
	}
	if err := commit(btx); err != nil {
		return o.commitFailed(err)
	}
	clean = true
	s.sweep()
	return nil
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

// release closes the store. After a panic or a failed commit bbolt's own closing
// could wait for a transaction that never ends: then the lock is given back and
// the file closed, and the mapping stays until the process ends.
func (o *locked) release(clean bool) {
	if clean {
		o.db.Close()
		return
	}
	unlock(o.file)
	o.file.Close()
}

// commitFailed tells a commit that cannot have reached the disk from one that may
// have. Only want of space and pages that contradict each other are told apart, and only
// when the header on disk is still the old one; after a failed sync nothing is sure.
func (o *locked) commitFailed(err error) error {
	if errors.Is(err, errStumbled) && o.headerUnchanged() {
		return damaged("the change cannot be written: its pages contradict each other").because(err)
	}
	if wantsSpace(err) && o.headerUnchanged() {
		return &Error{Class: ClassUnusable, What: "the store cannot grow", Next: "make room on the disk and do it again", Err: bare(err)}
	}
	return (&Error{
		Class: ClassUnknown,
		What:  "the disk reported a fault while saving: the change may or may not be saved",
		Next:  "look whether it is there before doing it again",
	}).giving(err)
}

// headerUnchanged reports whether the newest header is the one the work began on.
func (o *locked) headerUnchanged() bool {
	info, err := o.file.Stat()
	if err != nil {
		return false
	}
	now, err := readHeaders(o.file, info.Size(), false)
	return err == nil && now.txid == o.txid
}

// wantsSpace reports whether the system had no room.
func wantsSpace(err error) bool {
	reason := bare(err)
	return reason == syscall.ENOSPC || reason == syscall.EDQUOT || reason == syscall.EFBIG
}

// newTx joins a transaction with what is known of its file.
func (s *Store) newTx(o *locked, btx *bbolt.Tx) *Tx {
	return &Tx{store: s, btx: btx, file: o, survey: surveyed(o.file, o.headers)}
}
