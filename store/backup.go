package store

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// Backup copies the store into the backup folder and rotates old backups out, but only where the copy
// verifies as a whole. Its error is no reason to fail what was done before: show it as a warning.
func (s *Store) Backup(ctx context.Context, reason Reason) (made Backup, err error) {
	if err := s.found(); err != nil {
		return made, err // before a folder is made for nothing
	}
	if err := makeFolders(s.BackupFolder()); err != nil {
		return made, s.refused("cannot be backed up: the folder is not to be had", err)
	}
	err = s.withCopy(ctx, filepath.Join(s.BackupFolder(), filepath.Base(s.realPath())), func(temp string) error {
		made, err = s.nameBackup(temp, reason)
		return s.refused("cannot be backed up", err)
	})
	if err != nil {
		return made, err
	}
	return made, s.rotate(made)
}

// DailyBackup makes the backup of the local day; nil when there is one.
func (s *Store) DailyBackup(ctx context.Context) (*Backup, error) {
	all, err := s.namedBackups()
	if err != nil {
		return nil, err
	}
	today := s.options.Now().Format(backupDay)
	if slices.ContainsFunc(all, func(b Backup) bool { return b.Reason == ReasonDaily && b.Made.Format(backupDay) == today }) {
		return nil, nil
	}
	made, err := s.Backup(ctx, ReasonDaily)
	if err != nil {
		return nil, err
	}
	return &made, nil
}

func (s *Store) withCopy(ctx context.Context, path string, fn func(temp string) error) error {
	return s.withTemp("cannot be copied", path, func(temp string) error {
		if err := s.copyTo(ctx, temp); err != nil {
			return err
		}
		if _, err := s.in(temp).sound(ctx); err != nil {
			return s.place(err)
		}
		return fn(temp)
	})
}

// copyTo copies the present state into an existing, empty file and syncs it. It is done inside a
// transaction: a copy made from outside while a writer is at work would mix two states.
func (s *Store) copyTo(ctx context.Context, path string) error {
	return s.transact(ctx, verifyLimit, false, func(tx *Tx) error {
		if err := tx.wholly(); err != nil {
			return err
		}
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err == nil {
			defer f.Close()
			_, err = tx.btx.WriteTo(f)
		}
		if err == nil {
			err = f.Sync()
		}
		return s.refused("cannot be copied", err)
	})
}

// nameBackup gives a finished copy its name, a millisecond later when that is taken.
func (s *Store) nameBackup(temp string, reason Reason) (Backup, error) {
	for at := s.options.Now().Truncate(time.Millisecond); ; at = at.Add(time.Millisecond) {
		name := at.Format(backupTime) + "-" + string(reason) + backupTail
		b := Backup{Path: filepath.Join(s.BackupFolder(), name), Made: at, Reason: reason}
		if err := putInPlace(temp, b.Path); !errors.Is(err, fs.ErrExist) {
			b.read()
			return b, err
		}
	}
}

// rotate removes the backups that are no longer kept. It is called only when the store, as it is,
// has just verified; the backup made then always stays, whatever the clock says.
func (s *Store) rotate(made Backup) error {
	all, err := s.Backups()
	if err != nil {
		return err
	}
	kept := keep(all)
	for _, b := range all {
		if kept[b.Path] || b.Path == made.Path {
			continue
		}
		if err := os.Remove(b.Path); err != nil {
			return s.refused("has an old backup that cannot be removed", err)
		}
	}
	return nil
}
