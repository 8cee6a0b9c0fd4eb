package store

import (
	"context"
	"errors"
	"strconv"

	"go.etcd.io/bbolt"
)

// raise is one step from a schema to the next: what it does to the buckets. The summary
// is made anew after the last.
type raise struct {
	from  int
	apply func(*bbolt.Tx) error
}

// raises lists the steps there have been. Schema 1 is the first released.
var raises []raise

// olderError is a store whose schema must be raised before it can be used.
type olderError struct{ have int }

func (e *olderError) Error() string { return "the store has the older schema " + strconv.Itoa(e.have) }

// isOlder reports whether that is why nothing was done.
func isOlder(err error) bool {
	var older *olderError
	return errors.As(err, &older)
}

// raise brings an older store to the present schema: a verified backup first, then
// every step and the new number in one transaction. A kill leaves the old schema
// or the new one.
func (s *Store) raise(ctx context.Context) error {
	if _, err := s.Backup(ctx, ReasonRaise); err != nil {
		return err
	}
	return s.guardedFor(ctx, verifyLimit, func(g *guard) error {
		return s.write(g, func(tx *Tx) error {
			var older *olderError
			err := tx.identify()
			if !errors.As(err, &older) {
				return err // nil: another process has raised it meanwhile
			}
			return s.climb(tx, older.have)
		})
	})
}

// climb takes the steps from a schema to the present one.
func (s *Store) climb(tx *Tx, have int) error {
	if err := tx.survey.first(); err != nil {
		return err
	}
	for ; have < schema; have++ {
		step, err := s.stepFrom(have)
		if err != nil {
			return err
		}
		if err := step.apply(tx.btx); err != nil {
			return err
		}
	}
	meta := tx.btx.Bucket(bucketMeta)
	if err := meta.Put(metaSchema, seal(metaSchema, strconv.Itoa(schema))); err != nil {
		return err
	}
	tx.summary, _ = decodeSummary(meta.Get(metaSummary))
	tx.changed = true
	return tx.flush()
}

// stepFrom finds the step that begins at a schema.
func (s *Store) stepFrom(have int) (raise, error) {
	for _, step := range s.raises {
		if step.from == have {
			return step, nil
		}
	}
	return raise{}, &Error{
		Class: ClassForeign,
		What:  "the store has schema " + strconv.Itoa(have) + ", from which this program knows no way",
		Next:  "open it with an earlier version first",
	}
}
