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

// untilLocked tries until it has the lock, often: bbolt's own waiting looks only every 50 ms.
func untilLocked[T any](ctx context.Context, s *Store, try func() (T, error)) (got T, err error) {
	deadline := time.Now().Add(s.options.LockWait)
	for {
		if err := s.found(); err != nil {
			return got, err
		}
		got, err = try()
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

// open opens under the lock. What can be wrong with the file is found before bbolt looks at it.
func (s *Store) open(ctx context.Context, write bool) (*locked, error) {
	return untilLocked(ctx, s, func() (*locked, error) {
		o := &locked{}
		var err error
		o.db, err = bbolt.Open(s.file, 0o600, &bbolt.Options{
			Timeout:      1, // one try
			ReadOnly:     !write,
			NoStatistics: true,
			PageSize:     pageSize,
			OpenFile: func(path string, flag int, _ os.FileMode) (f *os.File, err error) {
				o.file, err = lockedFile(path, flag&^os.O_CREATE, write, func(f *os.File) error {
					_, err := readHeaders(f, write)
					return err
				})
				return o.file, err
			},
		})
		switch {
		case errors.Is(err, bbolterrors.ErrTimeout):
			return nil, errBusy
		case err != nil:
			return nil, err
		}
		if o.headers, err = readHeaders(o.file, write); err != nil { // again, where only bbolt could lock
			o.db.Close()
		}
		return o, err
	})
}

func lockedFile(path string, flag int, write bool, examine func(*os.File) error) (*os.File, error) {
	f, err := os.OpenFile(path, flag, 0)
	if err != nil {
		return nil, err
	}
	if err = tryLock(f, write); err == nil {
		err = stillThere(f, path)
	}
	if err == nil {
		err = examine(f)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
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
