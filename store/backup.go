package store

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
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
	if err == nil {
		err = s.rotate(made)
	}
	return made, err
}

// DailyBackup makes the backup of the local day, unless there is one.
func (s *Store) DailyBackup(ctx context.Context) error {
	all, err := s.namedBackups()
	today := s.options.Now().Format(backupDay)
	ofToday := func(b Backup) bool { return b.Reason == ReasonDaily && b.Made.Format(backupDay) == today }
	if err != nil || slices.ContainsFunc(all, ofToday) {
		return err
	}
	_, err = s.Backup(ctx, ReasonDaily)
	return err
}

// withCopy has fn do something with a verified copy of the present state in a temporary file beside
// a path. The copy is made inside a transaction: one made from outside while a writer is at work
// would mix two states.
func (s *Store) withCopy(ctx context.Context, path string, fn func(temp string) error) error {
	return s.withTemp("cannot be copied", path, func(temp string) error {
		err := s.transact(ctx, verifyLimit, false, func(tx *Tx) error {
			if err := tx.wholly(); err != nil {
				return err
			}
			f, err := os.OpenFile(temp, os.O_WRONLY, 0)
			if err == nil {
				defer f.Close() // also where a damaged page panics
				_, err = tx.btx.WriteTo(f)
				err = cmp.Or(err, f.Sync(), f.Close())
			}
			return s.refused("cannot be copied", err)
		})
		if err != nil {
			return err
		}
		if _, err := s.in(temp).sound(ctx); err != nil {
			return s.place(err)
		}
		return fn(temp)
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
	kept[made.Path] = true
	for _, b := range all {
		if !kept[b.Path] {
			err = cmp.Or(err, os.Remove(b.Path))
		}
	}
	return s.refused("has an old backup that cannot be removed", err)
}

// Reason is why a backup was made.
type Reason string

// The reasons, as they stand in a backup's name.
const (
	ReasonDaily  Reason = "daily"  // after the first step of a day
	ReasonAsked  Reason = "asked"  // the knitter asked for it
	ReasonImport Reason = "import" // before an import
	ReasonRaise  Reason = "raise"  // before the schema was raised; never rotated out
)

// Backup is one backup in the folder.
type Backup struct {
	Path   string    `json:"path"`
	Made   time.Time `json:"made"` // to the millisecond, local time as it was
	Reason Reason    `json:"reason"`
	Bytes  int64     `json:"bytes"`
	commit uint64    // number of its last commit, 0 when none can be told
}

// A backup's name is the time it was made and the reason.
const (
	backupTime = "2006-01-02T15-04-05.000"
	backupDay  = "2006-01-02"
	backupTail = ".store"
)

// backupAt reads a name as a backup's; other files are none of ours.
func backupAt(path string) (b Backup, ok bool) {
	stem, isBackup := strings.CutSuffix(filepath.Base(path), backupTail)
	if !isBackup || len(stem) < len(backupTime)+2 || stem[len(backupTime)] != '-' {
		return b, false
	}
	made, err := time.ParseInLocation(backupTime, stem[:len(backupTime)], time.Local)
	b = Backup{Path: path, Made: made, Reason: Reason(stem[len(backupTime)+1:])}
	return b, err == nil
}

// Backups lists the backups, the oldest first: by their last commit, then by the time in the name,
// since a clock may have run ahead. One that cannot be read is taken for the oldest.
func (s *Store) Backups() ([]Backup, error) {
	all, err := s.namedBackups()
	for i := range all {
		all[i].read()
	}
	slices.SortStableFunc(all, func(a, b Backup) int { return cmp.Compare(a.commit, b.commit) })
	return all, err
}

func (b *Backup) read() {
	if file, commit, err := headed(b.Path); err == nil {
		b.Bytes, b.commit = file.Size(), commit
	}
}

// namedBackups lists what the names tell, by time.
func (s *Store) namedBackups() (all []Backup, err error) {
	entries, err := os.ReadDir(s.BackupFolder())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	for _, e := range entries {
		if b, ok := backupAt(filepath.Join(s.BackupFolder(), e.Name())); ok {
			all = append(all, b)
		}
	}
	return all, s.refused("has a backup folder that cannot be read", err)
}

// How much is kept: the newest backup of each reason on each of the newest seven days that have
// one, the newest of each of the newest four weeks, and all made before the schema was raised.
const (
	keptDays  = 7
	keptWeeks = 4
)

// keep chooses among backups given the oldest first.
func keep(all []Backup) map[string]bool {
	kept, days, weeks, perDay := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, b := range slices.Backward(all) {
		if b.Reason == ReasonRaise {
			kept[b.Path] = true
			continue
		}
		day := b.Made.Format(backupDay)
		if of := day + string(b.Reason); among(days, day, keptDays) && !perDay[of] {
			perDay[of], kept[b.Path] = true, true
		}
		year, week := b.Made.ISOWeek()
		if name := fmt.Sprint(year, "-", week); !weeks[name] && among(weeks, name, keptWeeks) {
			kept[b.Path] = true
		}
	}
	return kept
}

// among takes a name into a set that may hold so many, and reports whether it is in.
func among(set map[string]bool, name string, most int) bool {
	if !set[name] && len(set) < most {
		set[name] = true
	}
	return set[name]
}
