package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
)

// A file comes under its final name whole or not at all: it is made under a temporary one
// beside it, synced, linked, and the folder synced.

func tempName(path string) string { return "." + filepath.Base(path) + ".new-" }

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
	if err != nil {
		return err
	}
	defer f.Close()
	return f.Sync()
}

// reasons are those the database passes on as text only.
var reasons = []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG, syscall.EIO, syscall.EROFS, syscall.EACCES}

// bare is what the system said, without the path it said it of; nil for what others said.
func bare(err error) error {
	var reason syscall.Errno
	if errors.As(err, &reason) {
		return reason
	}
	for _, reason := range reasons {
		if strings.Contains(err.Error(), reason.Error()) {
			return reason
		}
	}
	for _, known := range []error{fs.ErrNotExist, fs.ErrPermission, fs.ErrExist, fs.ErrClosed, io.ErrUnexpectedEOF, io.EOF} {
		if errors.Is(err, known) {
			return known
		}
	}
	return nil
}
