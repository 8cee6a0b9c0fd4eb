package store

import (
	"fmt"
	"unicode/utf8"
)

// Setting is a stored setting; ok is false when it was never set. The value is
// valid only inside the Tx.
func (tx *Tx) Setting(name string) (value []byte, ok bool) {
	value = tx.btx.Bucket(bucketSettings).Get([]byte(name))
	return value, value != nil
}

// PutSetting keeps a setting. The name must be valid UTF-8 and not empty.
func (tx *Tx) PutSetting(name string, value []byte) error {
	if name == "" || !utf8.ValidString(name) {
		return fmt.Errorf("store: %q is no name for a setting", name)
	}
	if err := tx.change(); err != nil {
		return err
	}
	return tx.btx.Bucket(bucketSettings).Put([]byte(name), value)
}

// DeleteSetting forgets a setting; one that was never set is no error.
func (tx *Tx) DeleteSetting(name string) error {
	if err := tx.change(); err != nil {
		return err
	}
	return tx.btx.Bucket(bucketSettings).Delete([]byte(name))
}
