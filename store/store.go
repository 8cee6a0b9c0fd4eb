package store

import (
	"context"
	"crypto/rand"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Options say how a store is used. The zero value is ready.
type Options struct {
	Now      func() time.Time // the clock; time.Now when nil
	Writer   func() string    // tells the program version, kept in a new store; "" when nil
	Random   io.Reader        // source of identities; crypto/rand when nil
	Backups  string           // folder of backups; the file's path plus ".backups" when empty
	LockWait time.Duration    // how long to wait for another process; 2 s when 0
	Watch    time.Duration    // longest time from open to the end of a callback; 10 s when 0
	// Warn, when set, is told of every warning of a View or an Update that was not refused
	// as damage, while its Tx is good.
	Warn func(*Tx, Warning)
	// Begin, when set, is given the Tx of every View and Update before their function is. No
	// other file is opened with it, such as a backup.
	Begin func(*Tx)
	// CheckCommand is the program and arguments that run CheckChild on the path
	// appended to it. Check leaves out that part, and says so, when it is empty.
	CheckCommand []string
}

// Store is a path and how to use it. It holds no open file between calls and may
// be used from several goroutines and processes at once.
type Store struct {
	path    string
	options Options
	raises  []raise // see raise.go; a field so that tests can add an invented one
	// isBackup keeps an error of a backup from looking for the newest backup.
	isBackup bool
}

// At names the store at a path. It touches nothing.
func At(path string, o Options) *Store {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Random == nil {
		o.Random = rand.Reader
	}
	if o.LockWait == 0 {
		o.LockWait = 2 * time.Second
	}
	if o.Watch == 0 {
		o.Watch = 10 * time.Second
	}
	return &Store{path: path, options: o, raises: raises}
}

// Path is where the store is, or would be.
func (s *Store) Path() string { return s.path }

// BackupFolder is where backups are kept: beside the file itself, also where the path is a
// link to it.
func (s *Store) BackupFolder() string {
	if s.options.Backups != "" {
		return s.options.Backups
	}
	return s.realPath() + ".backups"
}

// realPath is the path of the file that a link at the path leads to.
func (s *Store) realPath() string {
	if info, err := os.Lstat(s.path); err == nil && info.Mode()&fs.ModeSymlink != 0 {
		if path, err := filepath.EvalSymlinks(s.path); err == nil {
			return path
		}
	}
	return s.path
}

// other is another file used like this store, with its backups.
func (s *Store) other(path string) *Store {
	o := s.options
	o.Backups = s.BackupFolder()
	return At(path, o)
}

// Exists reports whether something stands at the path. A link that leads nowhere
// does not count. It does not open the file.
func (s *Store) Exists() (bool, error) {
	_, err := os.Stat(s.path)
	if err == nil {
		return true, nil
	}
	if os.IsNotExist(err) {
		return false, nil
	}
	return false, s.refused("cannot be looked at", err)
}

// View runs fn on one unchanging state. Nothing is written and no disk barrier is
// made. Slices handed out by the Tx are valid only until fn returns. An error of
// fn is passed through as it is.
func (s *Store) View(ctx context.Context, fn func(*Tx) error) error {
	return s.raised(ctx, func() error { return s.view(ctx, s.options.Watch, s.begun(fn)) })
}

// Update runs fn on the newest state and commits what it changed, all or nothing:
// lock, test that the locked file is still the one at the path, fold and validate
// and put (all inside fn), commit, close. fn may run only once and must not wait
// for a person. When fn fails, or changes nothing, nothing is written. On return
// without error the change is on the disk.
func (s *Store) Update(ctx context.Context, fn func(*Tx) error) error {
	return s.raised(ctx, func() error { return s.update(ctx, s.options.Watch, s.begun(fn)) })
}

// begun is a caller's function with what is to be done at the beginning.
func (s *Store) begun(fn func(*Tx) error) func(*Tx) error {
	if s.options.Begin == nil {
		return fn
	}
	return func(tx *Tx) error {
		s.options.Begin(tx)
		return fn(tx)
	}
}

// raised does work, after raising the schema when it is an older one.
func (s *Store) raised(ctx context.Context, work func() error) error {
	err := work()
	if !isOlder(err) {
		return err
	}
	if err := s.raise(ctx); err != nil {
		return err
	}
	return work()
}

// view is View for a store of the current schema.
func (s *Store) view(ctx context.Context, limit time.Duration, fn func(*Tx) error) error {
	return s.guardedFor(ctx, limit, func(g *guard) error {
		return s.read(g.ctx, func(tx *Tx) error { return tx.call(fn) })
	})
}

// update is Update for a store of the current schema.
func (s *Store) update(ctx context.Context, limit time.Duration, fn func(*Tx) error) error {
	return s.guardedFor(ctx, limit, func(g *guard) error {
		return s.write(g, func(tx *Tx) error {
			if err := tx.call(fn); err != nil {
				return err
			}
			return tx.flush()
		})
	})
}

// call runs a callback on a state that can be trusted, and tells the warnings.
func (tx *Tx) call(fn func(*Tx) error) error {
	if err := tx.begin(); err != nil {
		return err
	}
	err := fn(tx)
	if tx.store.options.Warn != nil && ClassOf(err) != ClassDamaged {
		for _, w := range tx.warnings {
			tx.store.options.Warn(tx, w)
		}
	}
	return err
}
