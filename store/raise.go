package store

import (
	"context"
	"strconv"
	"time"
)

// View runs fn on one unchanging state. An error of fn is passed through as it is.
func (s *Store) View(ctx context.Context, fn func(*Tx) error) error {
	return s.run(ctx, s.options.Watch, false, fn)
}

// Update runs fn once on the newest state; on return without error all it changed is on the disk.
func (s *Store) Update(ctx context.Context, fn func(*Tx) error) error {
	return s.run(ctx, s.options.Watch, true, fn)
}

// run is work that raises the schema first when it is an older one.
func (s *Store) run(ctx context.Context, limit time.Duration, write bool, fn func(*Tx) error) error {
	err := s.work(ctx, limit, write, fn)
	if ClassOf(err) != classOlder {
		return err
	}
	if err := s.raise(ctx); err != nil {
		return err
	}
	return s.work(ctx, limit, write, fn)
}

// raise brings an older store to the present schema: a verified backup first, then every step and
// the new number in one transaction. A kill leaves the old schema or the new one.
func (s *Store) raise(ctx context.Context) error {
	if _, err := s.Backup(ctx, ReasonRaise); err != nil {
		return err
	}
	return s.transact(ctx, verifyLimit, true, func(tx *Tx) error {
		if err := tx.identify(); ClassOf(err) != classOlder {
			return err // nil: another process has raised it meanwhile
		}
		if err := tx.survey.first(); err != nil {
			return err
		}
		return s.climb(tx)
	})
}

func (s *Store) climb(tx *Tx) error {
	for have := tx.schema; have < schema; have++ {
		step, known := s.raises[have]
		if !known {
			return problem(ClassForeign, "the store has schema %d, from which only an earlier version knows a way", have)
		}
		if err := step(tx.btx); err != nil {
			return err
		}
	}
	meta := tx.btx.Bucket(bucketMeta)
	decode(nil, meta.Get(metaSummary), &tx.summary) // what an older schema has of it
	tx.summary.Format = valueFormat
	tx.changed = true
	return meta.Put(metaSchema, seal(metaSchema, strconv.AppendInt(nil, schema, 10)))
}
