package store

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"go.etcd.io/bbolt"
)

// CreateWith makes a new store, for its owner only, that begins with what fn puts into it. Where fn
// fails, or something is at the path already (ClassExists), none is made.
func (s *Store) CreateWith(ctx context.Context, fn func(*Tx) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if _, err := os.Lstat(s.path); err == nil {
		return s.exists()
	}
	if err := makeFolders(filepath.Dir(s.path)); err != nil {
		return s.refused("cannot be made: its folder is not to be had", err)
	}
	return s.withTemp("cannot be made", s.path, func(temp string) error {
		if err := s.fill(temp); err != nil {
			return err
		}
		if err := s.begin(ctx, temp, fn); err != nil {
			return err
		}
		return s.settleAt(temp)
	})
}

func (s *Store) settleAt(temp string) error {
	err := putInPlace(temp, s.path)
	if errors.Is(err, fs.ErrExist) {
		return s.exists()
	}
	return s.refused("cannot be given its name", err)
}

// begin has fn put something into the new store in a temporary file, and verifies it.
// Whatever goes wrong there, under the final name is nothing: no outcome is unknown.
func (s *Store) begin(ctx context.Context, temp string, fn func(*Tx) error) error {
	err := s.in(temp).work(ctx, verifyLimit, true, fn)
	if err == nil {
		_, err = s.in(temp).sound(ctx)
	}
	if ClassOf(err) == ClassUnknown {
		return problem(ClassUnusable, "the store cannot be made").at(s.path).giving(err)
	}
	return err
}

func (s *Store) fill(path string) error {
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{Timeout: 1, PageSize: pageSize, NoStatistics: true})
	if err == nil {
		err = errors.Join(db.Update(s.layOut), db.Sync(), db.Close())
	}
	return s.refused("cannot be made", err)
}

// longestWriter keeps the bucket meta small enough to lie inside the root page.
const longestWriter = 200

func (s *Store) layOut(btx *bbolt.Tx) error {
	for _, name := range [][]byte{bucketMeta, bucketHeads, bucketPieces, bucketCharts, bucketSettings, bucketCache} {
		if _, err := btx.CreateBucket(name); err != nil {
			return err
		}
	}
	id := make([]byte, 16)
	_, _ = rand.Read(id) // it never fails
	meta, version := btx.Bucket(bucketMeta), s.options.Writer()
	for _, v := range []struct {
		key   []byte
		value string
	}{
		{metaSchema, strconv.Itoa(schema)},
		{metaID, hex.EncodeToString(id)},
		{metaCreated, s.options.Now().Format(time.RFC3339)},
		{metaWriter, version[:min(len(version), longestWriter)]},
	} {
		if err := meta.Put(v.key, seal(v.key, []byte(v.value))); err != nil {
			return err
		}
	}
	return meta.Put(metaSummary, encode(nil, summary{Format: valueFormat, Commit: uint64(btx.ID())}, nil))
}
