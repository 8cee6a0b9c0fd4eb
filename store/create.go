package store

import (
	"context"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"go.etcd.io/bbolt"
)

// Create makes a new, empty store: in a temporary file beside the path, synced,
// then linked to the path, which fails when something is there already
// (ClassExists). A kill or a power cut leaves no store or a whole one, at worst a
// temporary file too, whose name begins with a dot and which nothing reads. The
// file is for its owner only (0600), new folders too (0700).
func (s *Store) Create(ctx context.Context) error {
	return s.CreateWith(ctx, nil)
}

// CreateWith is Create of a store that begins with what fn puts into it: where fn
// fails, or the disk is too small for it, there is no store.
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
	temp, err := tempFile(s.path)
	if err != nil {
		return s.refused("cannot be made", err)
	}
	defer os.Remove(temp)
	if err := s.fill(temp); err != nil {
		return s.refused("cannot be made", err)
	}
	if err := s.begin(ctx, temp, fn); err != nil {
		return err
	}
	return s.settleAt(temp, s.path)
}

// begin has fn put something into the new store in a temporary file, and verifies it.
// Whatever goes wrong there, under the final name is nothing: no outcome is unknown.
func (s *Store) begin(ctx context.Context, temp string, fn func(*Tx) error) error {
	if fn == nil {
		return nil
	}
	made := s.other(temp)
	err := made.update(ctx, verifyLimit, fn)
	if err == nil {
		_, err = made.sound(ctx)
	}
	var e *Error
	if errors.As(err, &e) && e.Class == ClassUnknown {
		return s.refused("cannot be made", e.Err)
	}
	if e != nil {
		e.Path = s.path
	}
	return err
}

// exists is the refusal to put a store over something.
func (s *Store) exists() error {
	return &Error{Class: ClassExists, Path: s.path, What: "there is something at this path already", Next: "another name"}
}

// settleAt gives a finished file its final name, unless that is taken.
func (s *Store) settleAt(temp, path string) error {
	err := putInPlace(temp, path)
	if errors.Is(err, fs.ErrExist) {
		return s.exists()
	}
	if err != nil {
		return s.refused("cannot be given its name", err)
	}
	return nil
}

// fill makes the buckets of an empty store in an empty file and syncs it.
func (s *Store) fill(path string) error {
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{Timeout: 1, PageSize: pageSize, NoStatistics: true})
	if err != nil {
		return err
	}
	err = db.Update(s.layOut)
	if closed := db.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	return syncFile(path)
}

// layOut makes the buckets and the bucket meta's values.
func (s *Store) layOut(btx *bbolt.Tx) error {
	for _, name := range [][]byte{bucketMeta, bucketHeads, bucketPieces, bucketCharts, bucketSettings, bucketCache} {
		if _, err := btx.CreateBucket(name); err != nil {
			return err
		}
	}
	id := make([]byte, 16)
	if _, err := io.ReadFull(s.options.Random, id); err != nil {
		return err
	}
	values := []struct {
		key   []byte
		value string
	}{
		{metaSchema, strconv.Itoa(schema)},
		{metaID, hex.EncodeToString(id)},
		{metaCreated, s.options.Now().Format(time.RFC3339)},
		{metaWriter, s.writer()},
	}
	meta := btx.Bucket(bucketMeta)
	for _, v := range values {
		if err := meta.Put(v.key, seal(v.key, v.value)); err != nil {
			return err
		}
	}
	return meta.Put(metaSummary, summary{txid: uint64(btx.ID())}.encode())
}

// longestWriter keeps the bucket meta small enough to lie inside the root page.
const longestWriter = 200

// writer is the version of the program as it is kept in a new store.
func (s *Store) writer() string {
	if s.options.Writer == nil {
		return ""
	}
	version := s.options.Writer()
	return version[:min(len(version), longestWriter)]
}

// tempName begins the name of a temporary file beside a path.
func tempName(path string) string { return "." + filepath.Base(path) + ".new-" }

// longGone is how old a temporary file is that no living process works on.
const longGone = 24 * time.Hour

// sweep takes away what killed processes left beside the store and its backups. That some
// of it cannot be is no reason to fail.
func (s *Store) sweep() {
	path := s.realPath()
	for _, folder := range []string{filepath.Dir(path), s.BackupFolder()} {
		entries, _ := os.ReadDir(folder)
		for _, e := range entries {
			if !strings.HasPrefix(e.Name(), tempName(path)) {
				continue
			}
			if info, err := e.Info(); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > longGone {
				_ = os.Remove(filepath.Join(folder, e.Name()))
			}
		}
	}
}

// tempFile makes an empty file beside a path, for its owner only.
func tempFile(path string) (string, error) {
	f, err := os.CreateTemp(filepath.Dir(path), tempName(path)+"*")
	if err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// putInPlace gives a synced file its final name without replacing anything, and
// syncs the folder. A link fails where the name is taken; file systems that know
// no links get a rename after a look.
func putInPlace(temp, path string) error {
	err := os.Link(temp, path)
	if err != nil && !errors.Is(err, fs.ErrExist) {
		if _, taken := os.Lstat(path); taken == nil {
			return fs.ErrExist
		}
		err = os.Rename(temp, path)
	}
	if err != nil {
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

// syncFile makes a file's contents last.
func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	err = f.Sync()
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

// syncFolder makes the names in a folder last. Windows keeps them without.
func syncFolder(folder string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(folder)
	if err != nil {
		return err
	}
	defer f.Close()
	return f.Sync()
}
