package frame

import (
	"context"
	"path/filepath"
	"runtime"
	"time"

	"strandwise/store"
)

// storePath is where the store lies for this run.
func (a *App) storePath() (string, error) {
	path, err := a.Settings.Get(StoreKey)
	if err != nil {
		return "", err
	}
	if path.Text == "" && path.Origin != OriginDefault {
		return "", Usage("%s names no place for the store", path.Origin).Hint("--store PATH, or leave it out")
	}
	if path.Text == "" {
		return "", Unusable("no place for the store: neither HOME nor XDG_DATA_HOME says where").
			Hint("--store PATH, or set STRANDWISE_STORE")
	}
	return path.Text, nil
}

// StoreWith names the store of this run, to be opened with those options; it touches nothing.
// Whoever opens it first in a run has the stored settings read in passing.
func (a *App) StoreWith(o store.Options) (*store.Store, error) {
	path, err := a.storePath()
	if err != nil {
		return nil, err
	}
	o.Now, o.Writer, o.Begin = a.Env.Now, version, a.Settings.read
	return store.At(path, o), nil
}

// StoreAt names another store than that of this run.
func (a *App) StoreAt(path string) *store.Store {
	return store.At(path, store.Options{Now: a.Env.Now, Writer: version})
}

// How long reading the stored settings may take, at most. Where the store is busy
// or damaged the command itself will say so, and should not have to wait twice.
const (
	settingsWait  = 50 * time.Millisecond
	settingsWatch = 500 * time.Millisecond
)

// storedSettings reads the settings kept in the store. Without a store, or with
// one that cannot be read, there are none.
func (a *App) storedSettings() map[string]string {
	kept := map[string]string{}
	a.Glance(func(tx *store.Tx) error {
		kept = settingsIn(tx)
		return nil
	})
	return kept
}

func settingsIn(tx *store.Tx) map[string]string {
	kept := map[string]string{}
	for _, row := range Settings {
		if value, ok := tx.Setting(row.Key); ok {
			kept[row.Key] = PlainText(value)
		}
	}
	return kept
}

// Glance reads the store for what a run can do without: not for long, and without a word
// when it cannot be read.
func (a *App) Glance(look func(*store.Tx) error) {
	s, err := a.StoreWith(store.Options{LockWait: settingsWait, Watch: settingsWatch})
	if err == nil {
		_ = s.View(context.WithoutCancel(a.ctx), look)
	}
}

// programFolder is the name of our folder inside the user's own.
const programFolder = "strandwise"

// StoreFile is the name of the store in the data folder.
const StoreFile = "pieces.store"

// defaultStore is where the store lies unless told otherwise: the data folder of
// the XDG base directory rules, on Windows the local application data. It is ""
// when the environment names no home.
func defaultStore(getenv func(string) string) string {
	folder := userFolder(getenv, "XDG_DATA_HOME", ".local/share")
	if folder == "" {
		return ""
	}
	return filepath.Join(folder, programFolder, StoreFile)
}

// stateFolder is where reports of our own faults go, or "".
func stateFolder(getenv func(string) string) string {
	folder := userFolder(getenv, "XDG_STATE_HOME", ".local/state")
	if folder == "" {
		return ""
	}
	return filepath.Join(folder, programFolder)
}

// userFolder follows the rule that a relative path in the variable is ignored.
func userFolder(getenv func(string) string, variable, below string) string {
	if folder := getenv(variable); filepath.IsAbs(folder) {
		return folder
	}
	if runtime.GOOS == "windows" {
		return getenv("LOCALAPPDATA")
	}
	if home := getenv("HOME"); home != "" {
		return filepath.Join(home, filepath.FromSlash(below))
	}
	return ""
}
