package store

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"unicode/utf8"
)

// Setting is a stored setting; ok is false when it was never set. The value is
// valid only inside the Tx.
func (tx *Tx) Setting(name string) (value []byte, ok bool, err error) {
	if err := tx.readSettings(); err != nil {
		return nil, false, err
	}
	value, ok = tx.settings[name]
	return value, ok, nil
}

// Settings lists the names of all settings in order.
func (tx *Tx) Settings() ([]string, error) {
	if err := tx.readSettings(); err != nil {
		return nil, err
	}
	return slices.Sorted(maps.Keys(tx.settings)), nil
}

// PutSetting keeps a setting. The name must be valid UTF-8 and not empty.
func (tx *Tx) PutSetting(name string, value []byte) error {
	if name == "" || !utf8.ValidString(name) {
		return fmt.Errorf("store: %q is no name for a setting", name)
	}
	if err := tx.dropSetting(name); err != nil {
		return err
	}
	value = bytes.Clone(value)
	tx.settings[name] = value
	tx.summary.settings.add([]byte(name), value)
	return tx.btx.Bucket(bucketSettings).Put([]byte(name), value)
}

// DeleteSetting forgets a setting; one that was never set is no error.
func (tx *Tx) DeleteSetting(name string) error {
	if err := tx.dropSetting(name); err != nil {
		return err
	}
	return tx.btx.Bucket(bucketSettings).Delete([]byte(name))
}

// dropSetting takes a setting out of the summary and the memory.
func (tx *Tx) dropSetting(name string) error {
	if err := tx.change(); err != nil {
		return err
	}
	if err := tx.readSettings(); err != nil {
		return err
	}
	if old, ok := tx.settings[name]; ok {
		tx.summary.settings.remove([]byte(name), old)
		delete(tx.settings, name)
	}
	return nil
}

// readSettings reads all settings once and holds them against the summary.
func (tx *Tx) readSettings() error {
	if tx.settings != nil {
		return nil
	}
	b, err := tx.bucket(bucketSettings)
	if err != nil {
		return err
	}
	var seen tally
	all := map[string][]byte{}
	c := b.Cursor()
	for k, v := c.First(); k != nil; k, v = c.Next() {
		seen.add(k, v)
		all[string(k)] = v
	}
	if seen != tx.summary.settings {
		return damaged("the settings are not the ones written last")
	}
	tx.settings = all
	return nil
}
