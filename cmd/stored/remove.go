package stored

import (
	"strandwise/session"
	"strandwise/store"
)

// Remove takes a piece out of the store, and of its charts those that no other log
// names. A plan that was undone counts too: to redo it takes its charts. Where a log cannot
// be read nobody can tell, and all charts stay.
func Remove(tx *store.Tx, id store.PieceID) error {
	mine, err := chartsNamed(tx, id)
	if err != nil {
		return err
	}
	if err := tx.RemovePiece(id); err != nil {
		return err
	}
	for _, other := range tx.Pieces() {
		named, err := chartsNamed(tx, other)
		if err != nil {
			return nil
		}
		for hash := range named {
			delete(mine, hash)
		}
	}
	for hash := range mine {
		if err := tx.RemoveChart(hash); err != nil {
			return err
		}
		if err := tx.DeleteCache(FileKey(hash)); err != nil {
			return err
		}
	}
	return nil
}

// chartsNamed are the charts that any event of a log names.
func chartsNamed(tx *store.Tx, id store.PieceID) (map[store.Hash]bool, error) {
	named := map[store.Hash]bool{}
	for r, err := range tx.Records(id) {
		if err != nil {
			return nil, err
		}
		if r.Kind == store.KindLost {
			continue
		}
		e, err := session.Decode(r.Kind, r.Payload)
		if err != nil {
			return nil, err
		}
		for _, hash := range session.ChartsOf(session.PartsNamed(e)) {
			named[hash] = true
		}
	}
	return named, nil
}
