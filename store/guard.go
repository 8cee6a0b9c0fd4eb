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
		if _, memory := fault.(interface{ Addr() uintptr }); memory || arose() {
			g.err = damaged("a page cannot be read").because(fault)
		} else {
			g.panic = fmt.Sprintf("%v\n\n%s", fault, debug.Stack())
		}
	}()
	debug.SetPanicOnFault(true)
	g.err = work(g)
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
