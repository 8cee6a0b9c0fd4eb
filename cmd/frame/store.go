package frame

import (
	"context"
	"path/filepath"
	"runtime"
	"time"

	"strandwise/store"
)

// StoreWith names the store of this run, to be opened with those options; it touches nothing.
// Whoever opens it first in a run has the stored settings read in passing.
func (a *App) StoreWith(o store.Options) (*store.Store, error) {
	path := a.Settings.Get(StoreKey)
	switch {
	case path.Text == "" && path.Origin != OriginDefault:
		return nil, Usage("%s names no place for the store", path.Origin).Hint("--store PATH, or leave it out")
	case path.Text == "":
		return nil, Unusable("no place for the store: neither HOME nor XDG_DATA_HOME says where").
			Hint("--store PATH, or set STRANDWISE_STORE")
	}
	o.Now, o.Writer, o.Begin = a.Env.Now, version, a.Settings.read
	return store.At(path.Text, o), nil
}

// How long a glance may take: where the store is busy or damaged the command itself will say
// so, and should not have to wait twice.
const (
	glanceWait  = 50 * time.Millisecond
	glanceWatch = 500 * time.Millisecond
)

// Glance reads the store for what a run can do without: not for long, and without a word
// when it cannot be read.
func (a *App) Glance(read func(*store.Tx) error) {
	s, err := a.StoreWith(store.Options{LockWait: glanceWait, Watch: glanceWatch})
	if err == nil {
		_ = s.View(context.WithoutCancel(a.ctx), read)
	}
}

func (a *App) openStore() { a.Glance(func(*store.Tx) error { return nil }) }

// inUserFolder is a file in our folder inside the user's own, by the XDG base directory rules: a
// relative path in the variable is ignored. On Windows it is in the local application data. It is
// "" when the environment names no home.
func inUserFolder(getenv func(string) string, variable, below, file string) string {
	folder, home := getenv(variable), getenv("HOME")
	switch {
	case filepath.IsAbs(folder):
	case runtime.GOOS == "windows":
		folder = getenv("LOCALAPPDATA")
	case home != "":
		folder = filepath.Join(home, filepath.FromSlash(below))
	default:
		return ""
	}
	if folder == "" {
		return ""
	}
	return filepath.Join(folder, "strandwise", file)
}
