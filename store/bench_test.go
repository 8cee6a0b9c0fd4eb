package store_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"strandwise/store"
)

// long is a store with one piece of so many events of a usual size.
func long(b testing.TB, events int) (*store.Store, store.PieceID) {
	s := fresh(b)
	texts := make([]string, events)
	for i := range texts {
		texts[i] = fmt.Sprintf("%04d%056d", i, i)
	}
	return s, newPiece(b, s, "long", texts...)
}

func BenchmarkRead5000(b *testing.B) {
	s, id := long(b, 5000)
	for b.Loop() {
		require.NoError(b, s.View(ctx, func(tx *store.Tx) error {
			_, err := tx.Records(id)
			return err
		}))
	}
}

func BenchmarkStep5000(b *testing.B) {
	s, id := long(b, 5000)
	for b.Loop() {
		require.NoError(b, s.Update(ctx, func(tx *store.Tx) error {
			_, err := tx.Append(id, event("one more row"))
			return err
		}))
	}
}

func BenchmarkOpen1000Pieces(b *testing.B) {
	s := fresh(b)
	require.NoError(b, s.Update(ctx, func(tx *store.Tx) error {
		for range 1000 {
			id, err := tx.NewPiece([]byte("info"))
			if err != nil {
				return err
			}
			if _, err := tx.Append(id, event("cast on")); err != nil {
				return err
			}
		}
		return nil
	}))
	for b.Loop() {
		require.NoError(b, s.View(ctx, func(tx *store.Tx) error {
			for _, id := range tx.Pieces() {
				if _, err := tx.Info(id); err != nil {
					return err
				}
			}
			return nil
		}))
	}
}
