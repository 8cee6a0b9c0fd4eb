package store

import (
	"context"
	"errors"
	"fmt"
	"path"
	"reflect"
	"regexp"
	"runtime/debug"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
)

// verifyLimit bounds a reading of the whole file, which may be far longer than a step.
const verifyLimit = 2 * time.Minute

// View runs fn on one unchanging state. An error of fn is passed through as it is.
func (s *Store) View(ctx context.Context, fn func(*Tx) error) error {
	return s.run(ctx, s.options.Watch, false, fn)
}

// Update runs fn once on the newest state; on return without error all it changed is on the disk.
func (s *Store) Update(ctx context.Context, fn func(*Tx) error) error {
	return s.run(ctx, s.options.Watch, true, fn)
}

// run is work that raises the schema first when it is an older one.
func (s *Store) run(ctx context.Context, limit time.Duration, write bool, fn func(*Tx) error) error {
	err := s.work(ctx, limit, write, fn)
	if ClassOf(err) != classOlder {
		return err
	}
	if err := s.raise(ctx); err != nil {
		return err
	}
	return s.work(ctx, limit, write, fn)
}

// raise brings an older store to the present schema: a verified backup first, then every step and
// the new number in one transaction. A kill leaves the old schema or the new one.
func (s *Store) raise(ctx context.Context) error {
	if _, err := s.Backup(ctx, ReasonRaise); err != nil {
		return err
	}
	return s.transact(ctx, verifyLimit, true, func(tx *Tx) error {
		if err := tx.identify(); ClassOf(err) != classOlder {
			return err // nil: another process has raised it meanwhile
		}
		if err := tx.survey.first(); err != nil {
			return err
		}
		return s.climb(tx)
	})
}

func (s *Store) climb(tx *Tx) error {
	for have := tx.schema; have < schema; have++ {
		step, known := s.raises[have]
		if !known {
			return problem(ClassForeign, "the store has schema %d, from which only an earlier version knows a way", have)
		}
		if err := step(tx.btx); err != nil {
			return err
		}
	}
	meta := tx.btx.Bucket(bucketMeta)
	decode(nil, meta.Get(metaSummary), &tx.summary) // what an older schema has of it
	tx.summary.Format = valueFormat
	return tx.put(meta, metaSchema, seal(metaSchema, strconv.AppendInt(nil, schema, 10)))
}

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

// guard is one piece of work in a goroutine of its own, so that it can be given up. It is decided once:
// by the work, whose commit may then begin, or by the watchdog, after which nothing may be committed.
type guard struct {
	ctx     context.Context // ends with the time the work has
	decided atomic.Bool
	err     error  // how the work ended
	panic   string // of the caller's own code, with the stack of the place
}

// settle ends the watched part. It reports false when the work was given up.
func (g *guard) settle() bool { return g.decided.CompareAndSwap(false, true) }

// errLeft is the end of work that left its goroutine, as a test that fails does.
var errLeft = errors.New("store: the work was left")

// guarded does work under two guards. A fault while reading a damaged file, be it a memory fault
// or a failed assertion of bbolt, becomes an error. A watchdog gives up when the work does not
// reach its commit, or its end, in time: pages that lead round in a circle never do. A commit
// once begun is waited for. A panic of the caller's own code goes on in the caller.
func guarded(ctx context.Context, limit time.Duration, work func(*guard) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeoutCause(ctx, limit,
		damaged("reading did not end within %v: its pages may lead round in a circle", limit))
	defer cancel()
	g := &guard{ctx: ctx, err: errLeft}
	done := make(chan struct{})
	go func() {
		defer close(done)
		g.attempt(work)
	}()
	select {
	case <-done:
	case <-ctx.Done():
		if g.settle() {
			return context.Cause(ctx)
		}
		<-done
	}
	if g.panic != "" {
		panic(g.panic)
	}
	return g.err
}

// attempt does the work and tells damage from a mistake in a callback. Memory that faulted
// belongs to the file; any other panic is the file's fault when it arose in bbolt or here.
func (g *guard) attempt(work func(*guard) error) {
	defer func() {
		fault := recover()
		if fault == nil {
			return
		}
		stack := string(debug.Stack())
		if _, memory := fault.(interface{ Addr() uintptr }); memory || arose(stack) {
			g.err = damaged("a page cannot be read").because(fault)
		} else {
			g.panic = fmt.Sprintf("%v\n\n%s", fault, stack)
		}
	}()
	debug.SetPanicOnFault(true)
	g.err = work(g)
}

// The beginnings of the names of this package's functions, and of all in bbolt or in this module.
var (
	ours      = reflect.TypeFor[guard]().PkgPath() + "."
	module, _ = path.Split(ours)
	suspect   = regexp.MustCompile(`(?m)^(go\.etcd\.io/bbolt|` + regexp.QuoteMeta(module) + `).*`)
)

// arose reports whether a panic arose in bbolt or in this package, and not in a callback: whose
// function comes first in the stack below the panic, past the library's own.
func arose(stack string) bool {
	_, below, _ := strings.Cut(stack, "\npanic(")
	first := suspect.FindString(below)
	return first != "" && (strings.HasPrefix(first, ours) || !strings.HasPrefix(first, module))
}
