package store

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"go.etcd.io/bbolt"
)

// Options say how a store is used. The zero value is ready.
type Options struct {
	Now      func() time.Time // the clock; time.Now when nil
	Writer   func() string    // tells the program version, kept in a new store; "" when nil
	Backups  string           // folder of backups; the file's path plus ".backups" when empty
	LockWait time.Duration    // how long to wait for another process; 2 s when 0
	Watch    time.Duration    // longest time from open to the end of a callback; 10 s when 0
	// Warn, when set, is told of every warning of a View or an Update that was not refused
	// as damage, while its Tx is good.
	Warn func(*Tx, Warning)
	// Begin, when set, is given every Tx of this file, and of no other such as a backup, before the
	// function that works on it is.
	Begin func(*Tx)
}

// Store is a path and how to use it. It holds no open file between calls and may
// be used from several goroutines and processes at once.
type Store struct {
	path    string
	file    string // what is opened: the path, or a temporary file that is to stand there
	options Options
	// raises are the steps from a schema to the next: what each does to the buckets; the summary is made
	// anew after the last. Schema 1 is the first released, so only tests have one.
	raises map[int]func(*bbolt.Tx) error
}

// At names the store at a path. It touches nothing.
func At(path string, o Options) *Store {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Writer == nil {
		o.Writer = func() string { return "" }
	}
	o.LockWait = cmp.Or(o.LockWait, 2*time.Second)
	o.Watch = cmp.Or(o.Watch, 10*time.Second)
	return &Store{path: path, file: path, options: o}
}

// Path is where the store is, or would be.
func (s *Store) Path() string { return s.path }

// BackupFolder is where backups are kept: beside the file itself, also where the path is a link.
func (s *Store) BackupFolder() string {
	if s.options.Backups != "" {
		return s.options.Backups
	}
	return s.realPath() + ".backups"
}

func (s *Store) realPath() string {
	if path, err := filepath.EvalSymlinks(s.path); err == nil && isLink(s.path) {
		return path
	}
	return s.path
}

func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}

func (s *Store) other(path string) *Store {
	o := s.options
	o.Backups, o.Begin = s.BackupFolder(), nil
	return At(path, o)
}

func (s *Store) in(temp string) *Store {
	o := *s
	o.file, o.options.Begin = temp, nil
	return &o
}

// Exists reports whether something stands at the path; a link that leads nowhere does not count.
func (s *Store) Exists() (bool, error) {
	_, err := os.Stat(s.path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil, s.refused("cannot be looked at", err)
}

// found makes sure that there is a file to open: opening a pipe would wait for ever.
func (s *Store) found() error {
	info, err := os.Stat(s.file)
	switch {
	case errors.Is(err, fs.ErrNotExist) && isLink(s.path):
		return problem(ClassMissing, "the link leads to no store").at(s.path).next("remove the link, or lead it to a store")
	case errors.Is(err, fs.ErrNotExist):
		return problem(ClassMissing, "there is no store here yet").at(s.path)
	case err != nil:
		return s.refused("cannot be opened", err)
	case !info.Mode().IsRegular():
		kinds := map[fs.FileMode]string{fs.ModeDir: "a folder", fs.ModeNamedPipe: "a pipe", fs.ModeSocket: "a socket"}
		kind := cmp.Or(kinds[info.Mode().Type()], "a device")
		return problem(ClassUnusable, "the store cannot be used: this is %s, not a file", kind).at(s.path).
			next("a file that keeps pieces, or a name that is not there yet")
	}
	return nil
}

// refused is an operation the system would not do; errors of this package stay as they are.
func (s *Store) refused(what string, err error) error {
	if err == nil || ClassOf(err) != ClassOther {
		return err
	}
	return problem(ClassUnusable, "the store %s", what).at(s.path).giving(err)
}

// withTemp has fn fill an empty file, for its owner only, beside a path and put it in its place.
func (s *Store) withTemp(what, path string, fn func(temp string) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), tempName(path)+"*")
	if err != nil {
		return s.refused(what, err)
	}
	f.Close()
	defer os.Remove(f.Name())
	return fn(f.Name())
}

func (s *Store) exists() error {
	return problem(ClassExists, "there is something at this path already").at(s.path)
}

func (s *Store) sweep() {
	path := s.realPath()
	Sweep(filepath.Dir(path), tempName(path), "")
	Sweep(s.BackupFolder(), tempName(path), "")
}

// place fills in the path, and the newest backup where the file itself is at fault.
func (s *Store) place(err error) error {
	e, is := errors.AsType[*Error](err)
	if !is {
		return err
	}
	if e.Path == "" {
		e.Path = s.path
	}
	if e.Class == ClassDamaged || e.Class == ClassForeign {
		if all, unread := s.Backups(); unread == nil && len(all) > 0 {
			e.Backup = all[len(all)-1].Path
		}
	}
	return err
}
