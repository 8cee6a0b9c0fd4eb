package stored

import (
	"strandwise/cmd/frame"
	"strandwise/store"
)

// Store names the store of this run; it touches nothing.
func Store(a *frame.App) (*store.Store, error) {
	return a.StoreWith(store.Options{Warn: func(tx *store.Tx, w store.Warning) { warnOf(a, tx, w) }})
}

// CheckedStore is the store of this run, with the program that examines it.
func CheckedStore(a *frame.App) (*store.Store, error) {
	o := store.Options{Warn: func(tx *store.Tx, w store.Warning) { warnOf(a, tx, w) }}
	if self := a.Env.Self(); self != "" {
		o.CheckCommand = []string{self, frame.ExamineWord}
	}
	return a.StoreWith(o)
}
