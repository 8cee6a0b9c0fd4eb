package stored

import (
	"fmt"

	"strandwise/cmd/frame"
	"strandwise/store"
)

// Store names the store of this run; it touches nothing.
func Store(a *frame.App) (*store.Store, error) {
	return a.StoreWith(store.Options{Warn: func(tx *store.Tx, w store.Warning) { warnOf(a, tx, w) }})
}

// View reads the store of this run.
func View(a *frame.App, read func(*store.Tx) error) error {
	s, err := Store(a)
	if err != nil {
		return err
	}
	return s.View(a.Context(), read)
}

// Placed are the warnings, that of a damaged header with the event to look at: the last
// one found, by which the knitter can tell whether a later one is gone.
func Placed(tx *store.Tx, warnings []store.Warning) []store.Warning {
	for i, w := range warnings {
		if w.Piece > 0 {
			warnings[i].Text += "; look whether the last event found, " + eventWords(tx, w.Piece, w.Seq) + ", is the last you logged"
		}
	}
	return warnings
}

// eventWords tells of the last event of a piece, with what it says as far as the log can
// be read.
func eventWords(tx *store.Tx, id store.PieceID, seq uint64) string {
	place := fmt.Sprintf("%d of %s", seq, NameOf(tx, id))
	p, err := openAlone(tx, id)
	if err != nil {
		return place
	}
	return fmt.Sprintf("%s (%s)", place, p.Words(p.State.Newest()))
}

// warnOf shows a warning of whatever reads or changes the store: what one command sees,
// every command sees.
func warnOf(a *frame.App, tx *store.Tx, w store.Warning) {
	if !frame.AsksCompletion(a.Env.Args) {
		a.Warn(Placed(tx, []store.Warning{w}))
	}
}
