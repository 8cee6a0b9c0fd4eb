package store

import (
	"context"
	"errors"
	"fmt"
	"path"
	"reflect"
	"runtime"
	"runtime/debug"
	"strings"
	"sync/atomic"
	"time"
)

// guard is one piece of work on the store, done in a goroutine of its own so that
// it can be given up. It is decided once: by the work, whose result then counts and whose
// commit may begin, or by the watchdog, after which nothing may be committed any more.
type guard struct {
	ctx     context.Context
	decided atomic.Bool
	timer   *time.Timer
}

// settle ends the watched part. It reports false when the work was given up.
func (g *guard) settle() bool {
	if !g.decided.CompareAndSwap(false, true) {
		return false
	}
	g.timer.Stop()
	return true
}

// Panic carries a panic of a callback from the goroutine it happened in to the
// caller's, with the stack of the place.
type Panic struct {
	Value any
	Stack []byte
}

// String is the panic as the runtime would have told it.
func (p *Panic) String() string { return fmt.Sprintf("%v\n\n%s", p.Value, p.Stack) }

// outcome is how the work ended: with an error or none, or with a panic that was not
// the file's fault.
type outcome struct {
	err   error
	panic *Panic
}

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
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	g := &guard{ctx: ctx, timer: time.NewTimer(limit)}
	defer g.timer.Stop()
	done := make(chan outcome, 1)
	go attempt(g, work, done)
	var o outcome
	select {
	case o = <-done:
	case <-g.timer.C:
		if g.settle() {
			return damaged("reading did not end within %v: its pages may lead round in a circle", limit)
		}
		o = <-done
	case <-ctx.Done():
		if g.settle() {
			return ctx.Err()
		}
		o = <-done
	}
	if o.panic != nil {
		panic(o.panic)
	}
	return o.err
}

func attempt(g *guard, work func(*guard) error, done chan<- outcome) {
	o := outcome{err: errLeft}
	defer func() { done <- o }()
	defer func() {
		if fault := recover(); fault != nil {
			o = outcomeOf(fault)
		}
	}()
	debug.SetPanicOnFault(true)
	o.err = work(g)
}

// outcomeOf tells damage from a mistake in the callback. Memory that faulted belongs to the file;
// any other panic is the file's fault when it arose in bbolt or here.
func outcomeOf(fault any) outcome {
	if _, memory := fault.(interface{ Addr() uintptr }); memory || arose() {
		return outcome{err: damaged("a page cannot be read").because(fault)}
	}
	return outcome{panic: &Panic{Value: fault, Stack: debug.Stack()}}
}

// The beginnings of the names of this package's functions, and of all of this module's.
var (
	ours      = reflect.TypeFor[guard]().PkgPath() + "."
	module, _ = path.Split(reflect.TypeFor[guard]().PkgPath())
)

// arose reports whether the panic being recovered arose in bbolt or in this package, and not
// in a callback: whose function comes first below the panic, past the library's own.
func arose() bool {
	calls := make([]uintptr, 64)
	frames := runtime.CallersFrames(calls[:runtime.Callers(1, calls)])
	for panicked := false; ; {
		frame, more := frames.Next()
		switch name := frame.Function; {
		case name == "runtime.gopanic" || name == "runtime.sigpanic":
			panicked = true
		case panicked && (strings.HasPrefix(name, "go.etcd.io/bbolt") || strings.HasPrefix(name, ours)):
			return true
		case panicked && strings.HasPrefix(name, module), !more:
			return false
		}
	}
}
