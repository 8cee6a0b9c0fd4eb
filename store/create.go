package store

import (
	"cmp"
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"time"

	"go.etcd.io/bbolt"
)

// CreateWith makes a new store, for its owner only, that begins with what fn puts into it. Where fn
// fails, or something is at the path already (ClassExists), none is made.
func (s *Store) CreateWith(ctx context.Context, fn func(*Tx) error) error {
	if _, err := os.Lstat(s.path); err == nil {
		return s.exists()
	}
	if err := makeFolders(filepath.Dir(s.path)); err != nil {
		return s.refused("cannot be made: its folder is not to be had", err)
	}
	return s.withTemp("cannot be made", s.path, func(temp string) error {
		err := s.fill(temp)
		if err == nil {
			err = s.in(temp).work(ctx, verifyLimit, true, fn)
		}
		if err == nil {
			_, err = s.in(temp).sound(ctx)
		}
		switch {
		case ClassOf(err) == ClassUnknown: // under the final name is nothing
			return problem(ClassUnusable, "the store cannot be made").at(s.path).giving(err)
		case err != nil:
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
	put := func(key []byte, value string) error { return meta.Put(key, seal(key, []byte(value))) }
	return cmp.Or(
		put(metaSchema, strconv.Itoa(schema)),
		put(metaID, hex.EncodeToString(id)),
		put(metaCreated, s.options.Now().Format(time.RFC3339)),
		put(metaWriter, version[:min(len(version), longestWriter)]),
		meta.Put(metaSummary, encode(nil, summary{Format: valueFormat, Commit: uint64(btx.ID())}, nil)),
	)
}

// A file comes under its final name whole or not at all: it is made under a temporary one
// beside it, synced, linked, and the folder synced.

func tempName(path string) string { return "." + filepath.Base(path) + ".new-" }

// longGone is how old a temporary file is that no living process works on.
const longGone = 24 * time.Hour

// Sweep takes away, as far as it can, what killed processes left in a folder: what is of one type, whose
// name is made of these parts, the middle one by chance (a regular expression), and that is older than a day.
func Sweep(folder string, of fs.FileMode, begin, chance, end string) {
	ours := regexp.MustCompile("^" + regexp.QuoteMeta(begin) + chance + regexp.QuoteMeta(end) + "$")
	entries, _ := os.ReadDir(folder)
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && e.Type() == of && ours.MatchString(e.Name()) && time.Since(info.ModTime()) > longGone {
			_ = os.RemoveAll(filepath.Join(folder, e.Name()))
		}
	}
}

func (s *Store) sweep() {
	path := s.realPath()
	for _, folder := range []string{filepath.Dir(path), s.BackupFolder()} {
		Sweep(folder, 0, tempName(path), `\d+`, "")
	}
}

// withTemp has fn fill an empty file, for its owner only, beside a path and put it in its place.
func (s *Store) withTemp(what, path string, fn func(temp string) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), tempName(path)+"*")
	if err != nil {
		return s.refused(what, err)
	}
	f.Close()
	defer os.Remove(f.Name())
	return fn(f.Name())
}

// AddName gives a file a second name that is not taken; where there are no links it is renamed.
func AddName(path, name string) error {
	err := os.Link(path, name)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	if _, taken := os.Lstat(name); taken == nil {
		return fs.ErrExist
	}
	return os.Rename(path, name)
}

// putInPlace gives a synced file its final name, replaces nothing, and syncs the folder.
func putInPlace(temp, path string) error {
	if err := AddName(temp, path); err != nil {
		return err
	}
	if err := os.Remove(temp); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// makeFolders makes a folder and those above it, and syncs each one's parent.
func makeFolders(folder string) error {
	if _, err := os.Stat(folder); err == nil {
		return nil
	}
	if parent := filepath.Dir(folder); parent != folder {
		if err := makeFolders(parent); err != nil {
			return err
		}
	}
	if err := os.Mkdir(folder, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return syncFolder(filepath.Dir(folder))
}

// syncFolder makes the names in a folder last. Windows keeps them without.
func syncFolder(folder string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(folder)
	if err == nil {
		err = errors.Join(f.Sync(), f.Close())
	}
	return err
}
