package store

import (
	"context"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"time"

	"go.etcd.io/bbolt"
	bbolterrors "go.etcd.io/bbolt/errors"
)

// Two outcomes of a try that are answered by another try.
var (
	errBusy  = errors.New("another process holds the lock")
	errMoved = errors.New("the file was replaced meanwhile")
)

type locked struct {
	*headers
	db   *bbolt.DB
	file *os.File
}

// open opens under the lock. What can be wrong with the file is found before bbolt looks at it.
func (s *Store) open(ctx context.Context, write bool) (*locked, error) {
	return untilLocked(ctx, s, write, func(f *os.File) (*locked, error) {
		if _, err := readHeaders(f, write); err != nil {
			return nil, err
		}
		db, err := bbolt.Open(s.file, 0, &bbolt.Options{
			Timeout:      1, // one try
			ReadOnly:     !write,
			NoStatistics: true,
			PageSize:     pageSize,
			OpenFile:     func(string, int, os.FileMode) (*os.File, error) { return f, nil },
		})
		switch {
		case errors.Is(err, bbolterrors.ErrTimeout):
			return nil, errBusy
		case err != nil:
			return nil, err
		}
		headers, err := readHeaders(f, write) // again, where only bbolt could lock
		if err != nil {
			db.Close()
		}
		return &locked{headers, db, f}, err
	})
}

// untilLocked has fn work on the open file as soon as the lock is had, and closes it where that
// fails. It tries often: bbolt's own waiting looks only every 50 ms.
func untilLocked[T any](ctx context.Context, s *Store, write bool, fn func(*os.File) (T, error)) (got T, err error) {
	deadline := time.Now().Add(s.options.LockWait)
	for {
		if err := s.found(); err != nil {
			return got, err
		}
		got, err = tryLocked(s.file, write, fn)
		if !errors.Is(err, errBusy) && !errors.Is(err, errMoved) {
			return got, s.refused("cannot be opened", err)
		}
		if time.Now().After(deadline) {
			return got, problem(ClassBusy, "the store is in use by another process (waited %v)", s.options.LockWait)
		}
		select {
		case <-ctx.Done():
			return got, context.Cause(ctx)
		case <-time.After(time.Millisecond + rand.N(2*time.Millisecond)):
		}
	}
}

func tryLocked[T any](path string, write bool, fn func(*os.File) (T, error)) (got T, err error) {
	flag := os.O_RDONLY
	if write {
		flag = os.O_RDWR
	}
	f, err := os.OpenFile(path, flag, 0)
	if err != nil {
		return got, err
	}
	if err = tryLock(f, write); err == nil {
		err = stillThere(f, path)
	}
	if err == nil {
		got, err = fn(f)
	}
	if err != nil {
		f.Close()
	}
	return got, err
}

// stillThere: a file renamed away while a writer waited for its lock would swallow what is written.
func stillThere(f *os.File, path string) error {
	mine, err := f.Stat()
	if err != nil {
		return err
	}
	there, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) || (err == nil && !os.SameFile(mine, there)) {
		return errMoved
	}
	return err
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
