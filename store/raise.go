package store

import (
	"context"
	"errors"
	"strconv"

	"go.etcd.io/bbolt"
)

// raise is one step from a schema to the next.
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

// raise brings an older store to the present schema in one transaction.
func (s *Store) raise(ctx context.Context) error {
	return errors.New("no step")
}
