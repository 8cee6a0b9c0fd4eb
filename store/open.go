package store

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"strings"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
	bbolterrors "go.etcd.io/bbolt/errors"
)

// Two outcomes of a try that are answered by another try.
var (
	errBusy  = errors.New("another process holds the lock")
	errMoved = errors.New("the file was replaced meanwhile")
)

// locked is a store file that is open under its lock.
type locked struct {
	*headers
	db   *bbolt.DB
	file *os.File
}

// open opens for work, when the lock is to be had.
func (s *Store) open(ctx context.Context, write bool) (*locked, error) {
	return untilLocked(ctx, s, func() (*locked, error) { return s.tryOpen(write) })
}

// untilLocked tries until it has the lock, in single tries with a short and uneven
// sleep between them: bbolt's own waiting looks only every 50 ms.
func untilLocked[T any](ctx context.Context, s *Store, try func() (T, error)) (T, error) {
	deadline := time.Now().Add(s.options.LockWait)
	for {
		got, err := try()
		if !errors.Is(err, errBusy) && !errors.Is(err, errMoved) {
			return got, err
		}
		var none T
		if time.Now().After(deadline) {
			return none, s.busy()
		}
		select {
		case <-ctx.Done():
			return none, ctx.Err()
		case <-time.After(time.Millisecond + rand.N(2*time.Millisecond)):
		}
	}
}

// busy is the error of a lock that was not to be had.
func (s *Store) busy() error {
	return &Error{
		Class: ClassBusy,
		What:  "the store is in use by another process (waited " + s.options.LockWait.String() + ")",
		Next:  "try again; if it lasts, look for another window that is at work on this store",
	}
}

// tryOpen makes one try. Everything that can be wrong with the file is found
// before bbolt looks at it.
func (s *Store) tryOpen(write bool) (*locked, error) {
	if _, err := s.stat(); err != nil {
		return nil, err
	}
	o := &locked{}
	var err error
	o.db, err = bbolt.Open(s.path, 0o600, &bbolt.Options{
		Timeout:      1, // one try
		ReadOnly:     !write,
		NoStatistics: true,
		PageSize:     pageSize,
		OpenFile: func(path string, flag int, _ os.FileMode) (*os.File, error) {
			return o.openFile(path, flag, write)
		},
	})
	if errors.Is(err, bbolterrors.ErrTimeout) {
		return nil, errBusy
	}
	if err != nil {
		return nil, s.refusedOpen(err)
	}
	return o, o.readAgain(write)
}

// readAgain repeats the examination where it could not be made under the lock.
func (o *locked) readAgain(write bool) error {
	if locksEarly {
		return nil
	}
	info, err := o.file.Stat()
	if err == nil {
		o.headers, err = readHeaders(o.file, info.Size(), write)
	}
	if err != nil {
		o.db.Close()
	}
	return err
}

// openFile takes the lock of the file and examines it.
func (o *locked) openFile(path string, flag int, write bool) (*os.File, error) {
	f, err := lockedFile(path, flag&^os.O_CREATE, write)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err == nil {
		o.headers, err = readHeaders(f, info.Size(), write)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	o.file = f
	return f, nil
}

// lockedFile opens without creating, takes the lock, and makes sure that the file is still
// the one at the path.
func lockedFile(path string, flag int, write bool) (*os.File, error) {
	f, err := os.OpenFile(path, flag, 0)
	if err != nil {
		return nil, err
	}
	if err = tryLock(f, write); err == nil {
		err = stillThere(f, path)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// stillThere compares an open file with the path it was opened under. A file
// renamed away while a writer waited for its lock would swallow what is written.
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

// stat finds the file or says why there is none to open. Opening is left to
// files: opening a pipe would wait for ever.
func (s *Store) stat() (fs.FileInfo, error) {
	info, err := os.Stat(s.path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, s.missing()
	}
	if err != nil {
		return nil, s.refusedOpen(err)
	}
	if !info.Mode().IsRegular() {
		return nil, &Error{Class: ClassUnusable, What: "the store cannot be used: this is " + kindOf(info.Mode()) + ", not a file", Next: "a file that keeps pieces, or a name that is not there yet"}
	}
	return info, nil
}

// missing says that there is no store, or only a link to where one was.
func (s *Store) missing() error {
	if _, err := os.Lstat(s.path); err == nil {
		return &Error{Class: ClassMissing, What: "the link leads to no store", Next: "remove the link, or lead it to a store"}
	}
	return &Error{Class: ClassMissing, What: "there is no store here yet"}
}

// kindOf names what is not a plain file.
func kindOf(mode fs.FileMode) string {
	switch {
	case mode.IsDir():
		return "a folder"
	case mode&fs.ModeNamedPipe != 0:
		return "a pipe"
	case mode&fs.ModeSocket != 0:
		return "a socket"
	}
	return "a device"
}

// refusedOpen wraps what the system said, unless it is an error of this package or
// a reason to try again.
func (s *Store) refusedOpen(err error) error {
	var e *Error
	if errors.As(err, &e) || errors.Is(err, errBusy) || errors.Is(err, errMoved) {
		return err
	}
	if errors.Is(err, bbolterrors.ErrInvalid) || errors.Is(err, bbolterrors.ErrChecksum) {
		return damaged("the header cannot be trusted").because(err)
	}
	return s.refused("cannot be opened", err)
}

// refused is an operation the system would not do.
func (s *Store) refused(what string, err error) error {
	return (&Error{Class: ClassUnusable, Path: s.path, What: "the store " + what}).giving(err)
}

// reasons are those the database passes on as text only.
var reasons = []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG, syscall.EIO, syscall.EROFS, syscall.EACCES}

// bare is what the system said, without the path it said it of; nil for what others said.
func bare(err error) error {
	var reason syscall.Errno
	if errors.As(err, &reason) {
		return reason
	}
	for _, reason := range reasons {
		if strings.Contains(err.Error(), reason.Error()) {
			return reason
		}
	}
	for _, known := range []error{fs.ErrNotExist, fs.ErrPermission, fs.ErrExist, fs.ErrClosed, io.ErrUnexpectedEOF, io.EOF} {
		if errors.Is(err, known) {
			return known
		}
	}
	return nil
}

// place fills in what an error of this package leaves to the end: the path, the
// newest backup where the file itself is at fault.
func (s *Store) place(err error) error {
	var e *Error
	if !errors.As(err, &e) {
		return err
	}
	if e.Path == "" {
		e.Path = s.path
	}
	if !s.isBackup && (e.Class == ClassDamaged || e.Class == ClassForeign) {
		e.Backup = s.newestBackup()
	}
	return err
}
