package cmd

import (
	"context"
	"time"

	"strandwise/store"
)

// storePath is where the store lies for this run.
func (a *app) storePath() (string, error) {
	path, err := a.settings.get(storeKey)
	if err != nil {
		return "", err
	}
	if path.text == "" && path.origin != originDefault {
		return "", usage("%s names no place for the store", path.origin).hint("--store PATH, or leave it out")
	}
	if path.text == "" {
		return "", unusable("no place for the store: neither HOME nor XDG_DATA_HOME says where").
			hint("--store PATH, or set STRANDWISE_STORE")
	}
	return path.text, nil
}

// examineWord makes the program the child process that examines a damaged store,
// which may crash it.
const examineWord = "__examine-store"

func (a *app) storeWith(o store.Options) (*store.Store, error) {
	path, err := a.storePath()
	if err != nil {
		return nil, err
	}
	o.Now, o.Writer = a.env.Now, version
	return store.At(path, o), nil
}

// storeAt names another store than that of this run.
func (a *app) storeAt(path string) *store.Store {
	return store.At(path, store.Options{Now: a.env.Now, Writer: version})
}

// How long reading the stored settings may take, at most. Where the store is busy
// or damaged the command itself will say so, and should not have to wait twice.
const (
	settingsWait  = 50 * time.Millisecond
	settingsWatch = 500 * time.Millisecond
)

// storedSettings reads the settings kept in the store. Without a store, or with
// one that cannot be read, there are none.
func (a *app) storedSettings() map[string]string {
	kept := map[string]string{}
	a.glance(context.Background(), func(tx *store.Tx) error {
		kept = settingsIn(tx)
		return nil
	})
	return kept
}

func settingsIn(tx *store.Tx) map[string]string {
	kept := map[string]string{}
	for _, row := range settings {
		if value, ok, err := tx.Setting(row.key); err == nil && ok {
			kept[row.key] = plainText(value)
		}
	}
	return kept
}

// glance reads the store for what a run can do without: not for long, and without a word
// when it cannot be read.
func (a *app) glance(ctx context.Context, look func(*store.Tx) error) {
	s, err := a.storeWith(store.Options{LockWait: settingsWait, Watch: settingsWatch})
	if err == nil {
		_ = s.View(ctx, look)
	}
}
