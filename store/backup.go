package store

import (
	"cmp"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

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
	events uint64    // in all pieces
}

// A backup's name is the time it was made and the reason.
const (
	backupTime = "2006-01-02T15-04-05.000"
	backupDay  = "2006-01-02"
	backupTail = ".store"
)

// Backup copies the store as it is into a file of the backup folder: into a
// temporary file, synced, verified as a whole, then given its name. Afterwards old
// backups are rotated out. A store that does not verify is not backed up and
// nothing is rotated out. Making none is never a reason to fail what was done
// before; show the error as a warning.
func (s *Store) Backup(ctx context.Context, reason Reason) (Backup, error) {
	if _, err := s.stat(); err != nil {
		return Backup{}, s.place(err) // before a folder is made for nothing
	}
	if err := makeFolders(s.BackupFolder()); err != nil {
		return Backup{}, s.refused("cannot be backed up: the folder is not to be had", err)
	}
	temp, err := s.copyAside(ctx, filepath.Join(s.BackupFolder(), filepath.Base(s.realPath())))
	if err != nil {
		return Backup{}, err
	}
	defer os.Remove(temp)
	made, err := s.nameBackup(temp, reason)
	if err != nil {
		return Backup{}, s.refused("cannot be backed up", err)
	}
	return made, s.rotate(made)
}

// DailyBackup makes the day's backup unless there is one; the day is the local
// one. The result is nil when there was nothing to do.
func (s *Store) DailyBackup(ctx context.Context) (*Backup, error) {
	names, err := s.backupNames()
	if err != nil {
		return nil, err
	}
	today := s.options.Now().Format(backupDay)
	if slices.ContainsFunc(names, func(name string) bool {
		return strings.HasPrefix(name, today) && strings.HasSuffix(name, "-"+string(ReasonDaily)+backupTail)
	}) {
		return nil, nil
	}
	made, err := s.Backup(ctx, ReasonDaily)
	if err != nil {
		return nil, err
	}
	return &made, nil
}

// copyAside writes a verified copy into a temporary file beside a path. The copy is
// made inside a transaction: one made from outside while a writer is at work
// would mix two states.
func (s *Store) copyAside(ctx context.Context, path string) (temp string, err error) {
	temp, err = tempFile(path)
	if err != nil {
		return "", s.refused("cannot be copied", err)
	}
	defer func() {
		if err != nil {
			os.Remove(temp)
		}
	}()
	if err := s.copyTo(ctx, temp); err != nil {
		return temp, err
	}
	_, err = s.other(temp).sound(ctx)
	var e *Error
	if errors.As(err, &e) {
		e.Path, e.Backup = s.path, s.newestBackup()
	}
	return temp, err
}

// copyTo copies the present state into an existing, empty file and syncs it.
func (s *Store) copyTo(ctx context.Context, path string) error {
	return s.guardedFor(ctx, verifyLimit, func(g *guard) error {
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return s.refused("cannot be copied", err)
		}
		defer f.Close()
		return s.read(g.ctx, func(tx *Tx) error {
			if err := tx.wholly(); err != nil {
				return err
			}
			if _, err := tx.btx.WriteTo(f); err != nil {
				return s.refused("cannot be copied", err)
			}
			if err := f.Sync(); err != nil {
				return s.refused("cannot be copied", err)
			}
			return nil
		})
	})
}

// nameBackup gives a finished copy its name, a millisecond later when that is
// taken.
func (s *Store) nameBackup(temp string, reason Reason) (Backup, error) {
	at := s.options.Now().Truncate(time.Millisecond)
	for {
		name := at.Format(backupTime) + "-" + string(reason) + backupTail
		path := filepath.Join(s.BackupFolder(), name)
		err := putInPlace(temp, path)
		if errors.Is(err, fs.ErrExist) {
			at = at.Add(time.Millisecond)
			continue
		}
		if err != nil {
			return Backup{}, err
		}
		b, _ := backupNamed(s.BackupFolder(), name)
		return b, nil
	}
}

// Backups lists the backups, the oldest first: by their last commit, then the number of
// their events, and the time in the name last, since a clock may have run ahead. No folder
// is no backup.
func (s *Store) Backups() ([]Backup, error) {
	names, err := s.backupNames()
	if err != nil {
		return nil, err
	}
	var all []Backup
	for _, name := range names {
		if b, ok := backupNamed(s.BackupFolder(), name); ok {
			s.weigh(&b)
			all = append(all, b)
		}
	}
	slices.SortStableFunc(all, func(a, b Backup) int {
		return cmp.Or(cmp.Compare(a.commit, b.commit), cmp.Compare(a.events, b.events))
	})
	return all, nil
}

// weigh reads how far a backup goes. One that cannot be read is taken for the oldest.
func (s *Store) weigh(b *Backup) {
	one := s.other(b.Path)
	one.isBackup = true
	_ = one.view(context.Background(), s.options.Watch, func(tx *Tx) error {
		b.commit = tx.committed()
		for _, h := range tx.heads() {
			b.events += h.tail.Seq
		}
		return nil
	})
}

// backupNames lists the files of the backup folder by name, so by time.
func (s *Store) backupNames() ([]string, error) {
	folder, err := os.Open(s.BackupFolder())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err == nil {
		defer folder.Close()
		var names []string
		if names, err = folder.Readdirnames(-1); err == nil {
			slices.Sort(names)
			return names, nil
		}
	}
	return nil, s.refused("has a backup folder that cannot be read", err)
}

// backupNamed reads a name as a backup's; other files are none of ours.
func backupNamed(folder, name string) (Backup, bool) {
	stem, isBackup := strings.CutSuffix(name, backupTail)
	if !isBackup || len(stem) < len(backupTime)+2 || stem[len(backupTime)] != '-' {
		return Backup{}, false
	}
	made, err := time.ParseInLocation(backupTime, stem[:len(backupTime)], time.Local)
	if err != nil {
		return Backup{}, false
	}
	b := Backup{Path: filepath.Join(folder, name), Made: made, Reason: Reason(stem[len(backupTime)+1:])}
	if info, err := os.Stat(b.Path); err == nil {
		b.Bytes = info.Size()
	}
	return b, true
}

// day is the local day a backup was made.
func (b Backup) day() string { return b.Made.Format(backupDay) }

// newestBackup is the path of the newest backup, or nothing.
func (s *Store) newestBackup() string {
	all, err := s.Backups()
	if err != nil || len(all) == 0 {
		return ""
	}
	return all[len(all)-1].Path
}
