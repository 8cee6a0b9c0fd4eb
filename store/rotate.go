package store

import (
	"fmt"
	"os"
)

// How much is kept: the newest backup of each reason on each of the newest seven
// days that have one, the newest of each of the newest four weeks, and all made
// before the schema was raised.
const (
	keptDays  = 7
	keptWeeks = 4
)

// rotate removes the backups that are no longer kept. It is called only when the
// store, as it is, has just verified; the backup made then always stays, whatever
// the clock says.
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

// keep chooses among backups given the oldest first.
func keep(all []Backup) map[string]bool {
	kept, days, weeks, perDay := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	for i := len(all) - 1; i >= 0; i-- {
		b := all[i]
		if b.Reason == ReasonRaise {
			kept[b.Path] = true
			continue
		}
		if within(days, b.day(), keptDays) && !perDay[b.day()+string(b.Reason)] {
			perDay[b.day()+string(b.Reason)] = true
			kept[b.Path] = true
		}
		year, week := b.Made.ISOWeek()
		if name := fmt.Sprint(year, "-", week); !weeks[name] && within(weeks, name, keptWeeks) {
			kept[b.Path] = true
		}
	}
	return kept
}

// within takes a name into a set that may hold so many, and reports whether it is
// in.
func within(set map[string]bool, name string, most int) bool {
	if !set[name] && len(set) < most {
		set[name] = true
	}
	return set[name]
}
