package cmd

import (
	"strandwise/store"
)

// openStore names the store of this run; it touches nothing.
func (a *app) openStore() (*store.Store, error) { return a.storeWith(store.Options{Warn: a.warnOf}) }

// checkedStore is the store of this run, with the program that examines it.
func (a *app) checkedStore() (*store.Store, error) {
	o := store.Options{Warn: a.warnOf}
	if self := a.env.Self(); self != "" {
		o.CheckCommand = []string{self, examineWord}
	}
	return a.storeWith(o)
}
